package operation

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// phraseOperations run figures over groups.
func phraseOperations() []*Operation { return []*Operation{phrase(), unphrase()} }

// Phrasing are the arguments of a phrase that is run, for the first time or
// again with what is given. Settings are held as they are written, since a place
// or a number is told apart only in its song; nil is not given.
type Phrasing struct {
	Again   string // name or id of a phrase of the song
	Lane    string // name or id; made where it is missing and Group is given
	NewLane *string
	Group   string // name or id of a group or placed effect

	Name, Shape, Order, At, Until, Every, Open, Level, Seed *string
}

// setting holds a setting of a phrase as it is written; begins is what it is
// where nothing is given.
func setting(name, begins, help string, at func(*Phrasing) **string) field.Field {
	return field.Of(name, help, field.TextType,
		func(a *Phrasing) field.Value {
			if *at(a) == nil {
				return field.Value{Text: begins}
			}
			return field.Value{Text: **at(a)}
		},
		func(a *Phrasing, v field.Value) error {
			*at(a) = &v.Text
			return nil
		})
}

func phrase() *Operation {
	type A = Phrasing
	choice := func(f field.Field, words []string) field.Field {
		f.Choices = words
		return f
	}
	whole := func(f field.Field) field.Field {
		f.Type = field.WholeType
		return f
	}
	group := field.Text("group", "group or placed effect, by name or id (default: the lane's target)", func(a *A) *string { return &a.Group })
	group.Ref = []string{"group", "placed"}
	return tells(does(Operation{Verb: "phrase", On: "song", Menu: "Phrase…", Title: "Phrase", Button: "Run", Plays: true,
		Tip:  "runs a figure over a group at a division of the beat: chase, fan, mirror and others; with a cue of a phrase selected, that phrase again",
		Help: "runs a figure over a group of effects",
		Args: []Argument{
			{Field: group, Label: "Over", read: asWritten, About: []string{"target"}},
			{Field: choice(setting("shape", string(timeline.Chase), "chase, fan, mirror, alternate, burst, sustained, random", func(a *A) **string { return &a.Shape }), words(timeline.Shapes())), Label: "Shape"},
			{Field: choice(setting("order", string(timeline.OrderAll), orderHelp, func(a *A) **string { return &a.Order }), words(timeline.Orders())), Label: "Order"},
			{Field: field.Text("lane", "lane, by name or id; made if missing and {group} is given", func(a *A) *string { return &a.Lane }), Label: "Lane"},
			{Field: maybeText("new-lane", "what the lane is called that is made", func(a *A) **string { return &a.NewLane }), Label: "New lane", NoVerb: true, Empty: true},
			{Field: setting("at", "", "first place: a bar, time or timecode", func(a *A) **string { return &a.At }), Label: "From", Empty: true},
			{Field: setting("until", "", "last place, included", func(a *A) **string { return &a.Until }), Label: "To", Empty: true, About: []string{"to"}},
			{Field: setting("every", "1", `one step each: 1/2 (of a beat), "1bar", "2 beats", "0.5s"`, func(a *A) **string { return &a.Every }), Label: "Every", Empty: true},
			{Field: setting("open", "", "open time in seconds (default: the lane's or article's)", func(a *A) **string { return &a.Open }), Label: "Open", Empty: true},
			{Field: whole(setting("level", "", "percent (default: the article's)", func(a *A) **string { return &a.Level })), Label: "Level", Empty: true},
			{Field: whole(setting("seed", "", "which of the random orders", func(a *A) **string { return &a.Seed })), Label: "Seed", Empty: true},
			{Field: setting("name", "", "what to call the phrase", func(a *A) **string { return &a.Name }), Label: "Name", Empty: true},
			{Field: field.Text("again", "run this phrase anew, by its name or id", func(a *A) *string { return &a.Again }), NoForm: true},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			_, edit, err := a.run(at)
			return edit, err
		},
		func(s *timeline.Show, a *A) string {
			switch {
			case a.Again == "" && a.Name != nil && *a.Name != "":
				return "phrase " + *a.Name
			case a.Again == "" && a.Shape != nil:
				return "phrase " + *a.Shape
			case a.Again == "":
				return "phrase " + string(timeline.Chase)
			}
			for _, g := range s.Songs {
				for _, p := range g.Phrases {
					if p.ID == timeline.ID(a.Again) {
						return "phrase " + p.Title() + " again"
					}
				}
			}
			return "phrase " + a.Again + " again"
		}), outcomeOfPhrase)
}

// Unphrasing are the arguments of phrases that are taken out with their cues.
type Unphrasing struct{ Phrases []timeline.Ref }

func unphrase() *Operation {
	type A = Unphrasing
	refs := field.List("phrase", "phrases of the song, by name or id", func(a *A) *[]timeline.Ref { return &a.Phrases },
		func(r timeline.Ref) string { return string(r.Song) + "/" + string(r.ID) },
		func(s string) (timeline.Ref, error) {
			song, id, _ := strings.Cut(s, "/")
			return timeline.Ref{Kind: "phrase", Song: timeline.ID(song), ID: timeline.ID(id)}, nil
		})
	refs.Ref = []string{"phrase"}
	return does(Operation{Verb: "unphrase", Menu: "Remove phrase with cues", Title: "Remove phrases", Button: "Remove", Plays: true,
		Tip:  "takes the chosen phrase and the cues it made out of its song",
		Help: "takes phrases and the cues they made out of their songs",
		Args: []Argument{{Field: refs, Word: "PHRASE…", NoForm: true, read: readPhrase}}},
		func(_ At, a *A) (timeline.Edit, error) { return timeline.RemovePhrases(a.Phrases...), nil },
		func(s *timeline.Show, a *A) string {
			if len(a.Phrases) == 1 {
				return "remove phrase " + s.NamedRef(a.Phrases[0])
			}
			return "remove " + timeline.Counted(len(a.Phrases), "phrase")
		})
}

// readPhrase finds a phrase by its song and name: SONG/PHRASE.
func readPhrase(p *timeline.Plan, text string) (field.Value, error) {
	ref, err := p.FindRecord("phrase:" + text)
	return field.Value{Text: string(ref.Song) + "/" + string(ref.ID)}, err
}

// words are the words of a choice.
func words[S ~string](list []S) []string {
	var all []string
	for _, w := range list {
		all = append(all, string(w))
	}
	return all
}

// run gives the phrase as it is to be, and the edit that runs it.
func (a *Phrasing) run(at At) (*timeline.Phrase, timeline.Edit, error) {
	song := at.Show.Song(at.On.ID)
	if song == nil {
		return nil, nil, fmt.Errorf("the song is gone")
	}
	p, err := a.begin(at, song)
	if err != nil {
		return nil, nil, err
	}
	for _, s := range []struct {
		arg, field string
		text       *string
	}{{"name", "name", a.Name}, {"shape", "shape", a.Shape}, {"order", "order", a.Order}, {"at", "at", a.At}, {"until", "to", a.Until},
		{"every", "every", a.Every}, {"open", "open", a.Open}, {"level", "level", a.Level}, {"seed", "seed", a.Seed}} {
		if s.text == nil {
			continue
		}
		text := strings.TrimSpace(*s.text)
		switch s.arg {
		case "at", "until":
			if text, err = placeIn(at.Show, song, text); err != nil {
				return nil, nil, &settingError{"{" + s.arg + "}: " + err.Error(), timeline.ValueError{Kind: "phrase", Field: s.arg, Value: strings.TrimSpace(*s.text), Want: err.Error()}}
			}
		case "every":
			if _, err := timeline.ParseRat(text); err == nil {
				text += " beats"
			}
		case "open", "level", "seed":
			text = cmp.Or(text, "0")
		}
		if err := timeline.KindOf("phrase").Field(s.field).Set(p, timeline.Value{Text: text}); err != nil {
			return nil, nil, settingRefused(err)
		}
	}
	lane := a.Lane
	if lane == "" && a.NewLane != nil {
		lane = strings.TrimSpace(*a.NewLane)
	}
	return p, at.PhraseOn(song.ID, lane, a.Group, *p, at.NewID), nil
}

// settingError says what is wrong with a setting of a phrase. It has a text of
// its own for the command line; a form takes the error about the value.
type settingError struct {
	text string
	bad  timeline.ValueError
}

func (e *settingError) Error() string { return e.text }

func (e *settingError) Unwrap() error { return &e.bad }

// settingRefused has the field of a phrase say what is wrong with a setting.
func settingRefused(err error) error {
	var bad *timeline.ValueError
	if !errors.As(err, &bad) {
		return err
	}
	of := *bad
	of.Kind = "phrase"
	return &settingError{err.Error(), of}
}

// begin gives the phrase to run again, or a new one.
func (a *Phrasing) begin(at At, song *timeline.Song) (*timeline.Phrase, error) {
	kind := timeline.KindOf("phrase")
	none := func(text *string) bool { return text == nil || *text == "" }
	switch {
	case a.Again != "":
		ref, err := at.FindRecord("phrase:" + string(song.ID) + "/" + a.Again)
		if err != nil {
			return nil, err
		}
		p := *kind.Find(at.Show, song.ID, ref.ID).(*timeline.Phrase)
		return &p, nil
	case a.Lane == "" && a.NewLane == nil:
		return nil, fmt.Errorf("no lane is chosen; add {lane} with its name or id")
	case a.Lane == "" && strings.TrimSpace(*a.NewLane) == "":
		return nil, &timeline.ValueError{Field: "new-lane", Want: "is empty; write what the lane is called"}
	case none(a.At) || none(a.Until):
		return nil, fmt.Errorf("no places are given; add {at} and {until} with bars such as 17.1 or times such as 1:02.5")
	}
	p := kind.New(at.NewID("phrase", song.ID)).(*timeline.Phrase)
	return p, nil
}

// placeIn reads a place; a timecode becomes a place in the song.
func placeIn(s *timeline.Show, song *timeline.Song, text string) (string, error) {
	at, err := timeline.ParsePosition(text)
	if err != nil {
		return "", err
	}
	m, err := s.MomentAt(&song.SongHead, at)
	return m.String(), err
}

// outcomeOfPhrase tells the cues of a phrase, place by place.
func outcomeOfPhrase(at At, a *Phrasing) (Outcome, error) {
	p, edit, err := a.run(at)
	if err != nil {
		return Outcome{}, err
	}
	next, err := at.Show.Edit(edit)
	if err != nil {
		return Outcome{}, err
	}
	song := next.Song(at.On.ID)
	cues := slices.DeleteFunc(slices.Clone(song.Cues), func(c *timeline.Cue) bool { return c.Group != p.ID })
	slices.SortStableFunc(cues, func(x, y *timeline.Cue) int {
		tx, _ := x.At.In(song.Beats)
		ty, _ := y.At.In(song.Beats)
		return cmp.Compare(tx, ty)
	})
	out := Outcome{Columns: columns("Effect", "Place", "Lane"), Lines: []string{timeline.Counted(len(cues), "cue") + " that stay a group"}}
	for _, c := range cues {
		l := song.Lane(c.Lane)
		target := cmp.Or(c.Target, l.Target)
		out.Rows = append(out.Rows, []string{next.CalledBy(target, "placed", "group"), c.At.String(), next.CalledIn(song.ID, l)})
	}
	return out, nil
}

// orderHelp lists the orders in which a group can be taken.
var orderHelp = strings.Join(words(timeline.Orders()), ", ")
