package operation

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// stockOperations bring stock in and keep what was measured of it.
func stockOperations() []*Operation { return []*Operation{copyStock(), measureLead(), retire()} }

// StarterStock is what the starter stock is called where the folder of a show
// could stand.
const StarterStock = "starter"

// CopyStock are the arguments of stock that comes from another show.
type CopyStock struct {
	From      string   // as At.Stock takes it; "" is Folder
	Folder    string   // of another show, in a form
	Records   []string // kind:name, or the name of an article; none is all
	Only      string   // words of the names that are taken
	Conflicts string   // keep or replace, where both hold a record differently; "" keeps
}

// source gives the show whose stock is copied.
func (a *CopyStock) source(at At) (*timeline.Show, error) {
	if at.Stock == nil {
		return nil, errors.New("there is no show to copy stock from")
	}
	from := a.From
	if from == "" {
		if from = strings.TrimSpace(a.Folder); from == "" {
			return nil, &timeline.ValueError{Field: "folder", Want: "is empty; write the folder of another show"}
		}
	}
	return at.Stock(from)
}

// Compare says what copying comes to.
func (a *CopyStock) Compare(at At) (*timeline.StockCopy, error) {
	source, err := a.source(at)
	if err != nil {
		return nil, err
	}
	called := source.Names()
	refs, err := stockNamed(source, a.Records)
	if err != nil {
		return nil, err
	}
	words := strings.Fields(strings.ToLower(a.Only))
	refs = slices.DeleteFunc(refs, func(r timeline.Ref) bool {
		name := strings.ToLower(called.Called("", timeline.KindOf(r.Kind).Find(source, "", r.ID)))
		return slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(name, w) })
	})
	if len(words) > 0 && len(refs) == 0 {
		return nil, &timeline.ValueError{Field: "only", Value: a.Only, Want: "stands in no name there; write other words, or none for all"}
	}
	return timeline.CompareStock(source, at.Show, refs)
}

// stockNamed finds what is named of a stock; nothing named is everything.
func stockNamed(s *timeline.Show, names []string) ([]timeline.Ref, error) {
	if len(names) == 0 {
		return s.StockRefs(), nil
	}
	p := timeline.Compile(s, nil)
	var refs []timeline.Ref
	for _, name := range names {
		if !strings.Contains(name, ":") {
			name = "article:" + name
		}
		ref, err := p.FindRecord(name)
		if err != nil {
			return nil, err
		}
		refs = append(refs, ref)
	}
	return refs, nil
}

func copyStock() *Operation {
	type A = CopyStock
	conflicts := field.Parsed("conflicts", "where both shows differ: keep or replace (default: list them and copy nothing)", func(a *A) *string { return &a.Conflicts },
		func(s string) string { return s }, func(s string) (string, error) {
			if s != "" && s != "keep" && s != "replace" {
				return "", fmt.Errorf("%q is not one of: keep, replace", s)
			}
			return s, nil
		})
	conflicts.Choices = []string{"keep", "replace"}
	return tells(does(Operation{Verb: "stock", Name: "copy", First: true, Menu: "Copy from stock…", Title: "Copy from stock", Button: "Copy",
		Tip:  "brings articles and types from the starter stock or another show's folder",
		Help: "brings articles, device types and bank types from another show",
		Args: []Argument{
			{Field: field.Text("from", "where the records come from", func(a *A) *string { return &a.From }), Word: "FROM", Label: "From"},
			{Field: field.TextList("records", "what comes; a plain name means an article", func(a *A) *[]string { return &a.Records }), Word: "RECORD…", Optional: true, NoForm: true},
			{Field: field.Text("folder", "the folder of the other show", func(a *A) *string { return &a.Folder }), Label: "Folder", Hint: "/home/me/tours/last-year", NoVerb: true},
			{Field: field.Text("only", "takes only records in whose name these words stand", func(a *A) *string { return &a.Only }), Label: "Only", Hint: "words of the name; empty = all", NoVerb: true},
			{Field: conflicts, Label: "Differences"},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			c, err := a.Compare(at)
			if err != nil || len(c.New) == 0 && (a.Conflicts != "replace" || len(c.Conflicts) == 0) {
				return nil, err
			}
			return c.Edit(a.Conflicts == "replace"), nil
		},
		func(*timeline.Show, *A) string { return "copy from stock" }), outcomeOfStock)
}

// outcomeOfStock tells what happens to each record that is taken.
func outcomeOfStock(at At, a *CopyStock) (Outcome, error) {
	c, err := a.Compare(at)
	if err != nil {
		return Outcome{}, err
	}
	source, err := a.source(at)
	if err != nil {
		return Outcome{}, err
	}
	theirs := source.Names()
	out := Outcome{Columns: columns("Record", "Kind", "What happens"),
		Lines: []string{fmt.Sprintf("%s new, %d alike in both shows and left alone, %d different", timeline.Counted(len(c.New), "record"), len(c.Same), len(c.Conflicts))}}
	for _, r := range c.New {
		k := timeline.KindOfRecord(r)
		out.Rows = append(out.Rows, []string{theirs.Called("", r), k.Name, "is added"})
	}
	what := "differs: ours stays"
	if a.Conflicts == "replace" {
		what = "differs: theirs"
	}
	for _, x := range c.Conflicts {
		k := timeline.KindOf(x.Ref.Kind)
		out.Rows = append(out.Rows, []string{theirs.Called("", x.Theirs), k.Name, what})
	}
	return out, nil
}

// Measuring are the arguments of a lead that was counted from video.
type Measuring struct {
	Article timeline.ID
	Frames  []string // one number a shot, or several with commas or spaces between
	PerSec  int
	Through timeline.Ref // the bank or device that was used, if any
}

func (m *Measuring) start() { m.PerSec = 50 }

// measurement gives what was measured, less what the bank or device adds; of one
// whose type is lost that is nothing.
func (m *Measuring) measurement(s *timeline.Show) (timeline.Measurement, error) {
	frames, err := counts(m.Frames)
	taken := timeline.Measurement{Frames: frames, PerSec: m.PerSec}
	if b := s.Rig.Bank(m.Through.ID); b != nil && m.Through.Kind == "bank" {
		if t := s.Stock.BankType(b.Type); t != nil {
			taken.Latency = t.Latency
		}
	}
	if d := s.Rig.Device(m.Through.ID); d != nil && m.Through.Kind == "device" {
		if t := s.Stock.DeviceType(d.Type); t != nil {
			taken.Latency = t.Latency
		}
	}
	return taken, err
}

func measureLead() *Operation {
	type A = Measuring
	fps := field.Parsed("fps", "pictures a second of the video", func(m *A) *int { return &m.PerSec }, strconv.Itoa, func(s string) (int, error) {
		n, err := strconv.Atoi(s)
		if err != nil {
			return 0, errors.New("must be a whole number of pictures a second from 1 to 10000")
		}
		return n, nil
	})
	fps.Type = field.WholeType
	through := kindAndID("through", "bank or device that was used, by name or id", func(m *A) (string, timeline.ID) { return m.Through.Kind, m.Through.ID },
		func(m *A, kind string, id timeline.ID) { m.Through = timeline.Ref{Kind: kind, ID: id} }, "bank", "device")
	return tells(does(Operation{Verb: "stock", Name: "measure", First: true, Menu: "Measured lead…", Title: "Measured lead", Button: "Keep lead", Plays: true,
		Tip:  "keeps the lead of the chosen article as counted from video, with mean and spread",
		Help: "keeps a lead counted from video",
		Args: []Argument{
			{Field: id("article", "what was measured", func(m *A) *timeline.ID { return &m.Article }, "article"), Word: "ARTICLE", NoForm: true, read: readArticle},
			{Field: field.TextList("frames", "frames from command to hit, one number a shot, with commas", func(m *A) *[]string { return &m.Frames }), Label: "Frames", Hint: "6, 7, 6, 7", Commas: true},
			{Field: fps, Label: "Pictures/s"},
			{Field: through, Label: "Through", Kinded: true},
		}},
		func(at At, m *A) (timeline.Edit, error) {
			taken, err := m.measurement(at.Show)
			return timeline.KeepLead(m.Article, taken), err
		},
		func(s *timeline.Show, m *A) string { return "measured lead of " + s.Named("article", m.Article) }), outcomeOfMeasuring)
}

// readArticle finds an article, with its kind before it or without.
func readArticle(p *timeline.Plan, text string) (field.Value, error) {
	if !strings.HasPrefix(text, "article:") {
		text = "article:" + text
	}
	ref, err := p.FindRecord(text)
	return field.Value{Text: string(ref.ID)}, err
}

// outcomeOfMeasuring tells the lead and spread now, and as measured.
func outcomeOfMeasuring(at At, m *Measuring) (Outcome, error) {
	art := at.Show.Stock.Article(m.Article)
	if art == nil {
		return Outcome{}, errors.New("the article is gone")
	}
	taken, err := m.measurement(at.Show)
	if err != nil {
		return Outcome{}, err
	}
	lead, spread, err := taken.Lead()
	if err != nil {
		return Outcome{}, err
	}
	return Outcome{Columns: columns("", "#Now, s", "#Measured, s"),
		Rows:  [][]string{{"Lead", art.Lead.String(), lead.String()}, {"Spread", art.Spread.String(), spread.String()}},
		Lines: []string{taken.String(), "the spread is how far the farthest shot lies from the mean, and half a picture that nobody can see into"}}, nil
}

// counts reads whole numbers with commas or spaces between.
func counts(texts []string) ([]int, error) {
	var list []int
	for _, word := range strings.FieldsFunc(strings.Join(texts, ","), func(r rune) bool { return r == ',' || r == ' ' || r == ';' }) {
		n, err := strconv.Atoi(word)
		if err != nil {
			return nil, &timeline.ValueError{Field: "frames", Value: word, Want: "is no whole number; write one for each shot, such as 6, 7, 6"}
		}
		list = append(list, n)
	}
	return list, nil
}

// Retiring are the arguments of articles that are taken out of use, or into it
// again.
type Retiring struct {
	Articles []timeline.ID
	Back     bool
}

func retire() *Operation {
	type A = Retiring
	return does(Operation{Verb: "retire", Menu: "Retire or bring back", Title: "Retire", Button: "Retire",
		Tip:  "keeps the chosen articles for old shows, out of use; or takes them into use again",
		Help: "keeps articles for old shows, out of use; --back takes them into use again",
		Args: []Argument{
			{Field: ids("articles", "articles, by name or id", func(a *A) *[]timeline.ID { return &a.Articles }, "article"), Word: "ARTICLE…", NoForm: true},
			{Field: field.Flag("back", "they are in use again", func(a *A) *bool { return &a.Back }), Label: "Back in use"},
		}},
		func(_ At, a *A) (timeline.Edit, error) {
			return func(d *timeline.Draft) error {
				for _, id := range a.Articles {
					if err := d.Set(timeline.Ref{Kind: "article", ID: id}, "retired", timeline.Value{Text: strconv.FormatBool(!a.Back)}); err != nil {
						return err
					}
				}
				return nil
			}, nil
		},
		func(s *timeline.Show, a *A) string {
			word := "retire "
			if a.Back {
				word = "bring back "
			}
			if len(a.Articles) == 1 {
				return word + s.Named("article", a.Articles[0])
			}
			return word + timeline.Counted(len(a.Articles), "article")
		})
}
