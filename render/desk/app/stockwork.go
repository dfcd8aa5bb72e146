package app

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"emberbeat/shows"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

// stockCommands work on the stock.
func stockCommands() []command {
	return []command{
		{id: "stock-take", name: "Take stock…", help: "brings articles and types from the starter stock or another show's folder", group: "Book", off: needEdit, run: (*App).askTake},
		{id: "retire", name: "Retire or bring back", help: "keeps the chosen articles for old shows, out of use; or takes them into use again", group: "Book", off: needArticles, run: (*App).retire},
		{id: "measure", name: "Measured lead…", help: "keeps the lead of the chosen article as counted from video, with mean and spread", group: "Book", off: needArticles, run: (*App).askMeasure},
	}
}

func needArticles(a *App) string {
	if why := needChosenEdit(a); why != "" {
		return why
	}
	if a.book.refs[0].Kind != "article" {
		return "choose an article on the page Articles first"
	}
	return ""
}

// retire retires the chosen articles, or brings them back where all of them are retired.
func (a *App) retire() {
	all := true
	var recs []timeline.Record
	for _, r := range a.book.refs {
		c := *a.work.shown.Stock.Article(r.ID)
		all = all && c.Retired
		recs = append(recs, &c)
	}
	for _, r := range recs {
		r.(*timeline.Article).Retired = !all
	}
	word := "retire "
	if all {
		word = "bring back "
	}
	a.doAsked(change{word + counted(len(recs), "article"), []timeline.Edit{func(d *timeline.Draft) error {
		d.Put("", recs...)
		return nil
	}}}, nil)
}

// askMeasure asks for frame counts of a video.
func (a *App) askMeasure() {
	ref := a.book.refs[0]
	through, names := []timeline.Time{0}, []string{"nothing that adds to it"}
	for _, b := range a.work.shown.Rig.Banks {
		if t := a.work.shown.Stock.BankType(b.Type); t != nil {
			through, names = append(through, t.Latency), append(names, b.Name+", "+t.Latency.String()+" s")
		}
	}
	for _, v := range a.work.shown.Rig.Devices {
		if t := a.work.shown.Stock.DeviceTypeOf(v); t != nil {
			through, names = append(through, t.Latency), append(names, v.Name+", "+t.Latency.String()+" s")
		}
	}
	d := &asking{title: "Measured lead of " + a.nameOf([]string{"article"}, "", ref.ID), verb: "Keep lead", fields: []*ask{
		{name: "frames", label: "Frames", hint: "6, 7, 6, 7", help: "frames from the command, seen as a light in the picture, to the hit: one number a shot"},
		{name: "fps", label: "Pictures/s", text: "50", help: "pictures a second of the video"},
		{name: "through", label: "Through", names: names, help: "the bank or device that was used; its latency is taken away"},
	}}
	d.work = func(a *App, d *asking) outcome { return measured(a, d, ref.ID, through[d.field("through").at]) }
	d.show(a)
}

// measured is what frame counts come to: the lead and spread now, and as measured.
func measured(a *App, d *asking, id timeline.ID, latency timeline.Time) outcome {
	art := a.work.shown.Stock.Article(id)
	if art == nil {
		return outcome{err: errors.New("the article is gone")}
	}
	frames, err := frameCounts(d.field("frames").text)
	if err != nil {
		return outcome{err: err}
	}
	m := timeline.Measurement{Frames: frames, PerSec: d.count("fps"), Latency: latency}
	lead, spread, err := m.Lead()
	if err != nil {
		return outcome{err: err}
	}
	return outcome{change: change{"measured lead", []timeline.Edit{timeline.KeepLead(id, m)}}, head: []string{"", "Now, s", "Measured, s"},
		rows:  [][]string{{"Lead", art.Lead.String(), lead.String()}, {"Spread", art.Spread.String(), spread.String()}},
		lines: []string{upper(m.String()) + ".", "The spread is how far the farthest shot lies from the mean, and half a picture that nobody can see into."}}
}

// frameCounts reads whole numbers with commas or spaces between.
func frameCounts(text string) ([]int, error) {
	var list []int
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' || r == ';' }) {
		n, err := strconv.Atoi(word)
		if err != nil {
			return nil, &timeline.ValueError{Field: "frames", Value: word, Want: "is no whole number; write one for each shot, such as 6, 7, 6"}
		}
		list = append(list, n)
	}
	return list, nil
}

// askTake asks from where stock shall come.
func (a *App) askTake() {
	d := &asking{title: "Take stock", verb: "Take", caution: "The starter stock is invented. " + sheet.Caution, fields: []*ask{
		{name: "from", label: "From", names: []string{"the starter stock", "another show's folder"}, help: "where the records come from"},
		{name: "folder", label: "Folder", hint: "/home/me/tours/last-year", help: "the folder of the other show", off: func(d *asking) string {
			if d.field("from").at == 0 {
				return "choose another show's folder to write one"
			}
			return ""
		}},
		{name: "only", label: "Only", hint: "words of the name; empty = all", help: "takes only records in whose name these words stand"},
		{name: "replace", label: "Differences", names: []string{"keep what is here", "replace by theirs"}, help: "which side counts where both hold a record differently"},
	}}
	var read struct {
		from string
		show *timeline.Show
		err  error
	}
	d.work = func(a *App, d *asking) outcome {
		from := ""
		if d.field("from").at == 1 {
			from = strings.TrimSpace(d.field("folder").text)
			if from == "" {
				return outcome{err: &timeline.ValueError{Field: "folder", Value: "", Want: "is empty; write the folder of another show"}}
			}
		}
		if read.show == nil && read.err == nil || read.from != from {
			read.from = from
			read.show, read.err = stockFrom(from)
		}
		if read.err != nil {
			return outcome{err: &timeline.ValueError{Field: "folder", Value: from, Want: read.err.Error()}}
		}
		return taken(a, d, read.show)
	}
	d.show(a)
}

// stockFrom reads the stock of a show's folder; "" is the starter stock.
func stockFrom(dir string) (*timeline.Show, error) {
	if dir == "" {
		stock, err := shows.Starter()
		if err != nil {
			return nil, err
		}
		return timeline.NewShow("starter", "Starter stock", timeline.Rate25).Edit(timeline.AddStock(stock))
	}
	if rest, ok := strings.CutPrefix(dir, "~/"); ok {
		if home, err := os.UserHomeDir(); err == nil {
			dir = filepath.Join(home, rest)
		}
	}
	if _, err := os.Stat(dir); err != nil {
		return nil, errors.New("is no folder that can be read; write the folder of a show, in which show.toml lies")
	}
	l, err := shows.Load(dir)
	if err != nil {
		return nil, err
	}
	return l.Show, nil
}

// taken is what taking stock from a show comes to, record by record.
func taken(a *App, d *asking, from *timeline.Show) outcome {
	words := strings.Fields(strings.ToLower(d.field("only").text))
	var refs []timeline.Ref
	for _, r := range from.StockRefs() {
		k := timeline.KindOf(r.Kind)
		name := strings.ToLower(k.NameOf(k.Find(from, "", r.ID)))
		if !hasAll(name, words) {
			continue
		}
		refs = append(refs, r)
	}
	if len(refs) == 0 {
		return outcome{err: &timeline.ValueError{Field: "only", Value: d.field("only").text, Want: "stands in no name there; write other words, or none for all"}}
	}
	c, err := timeline.CompareStock(from, a.work.shown, refs)
	if err != nil {
		return outcome{err: err}
	}
	replace := d.field("replace").at == 1
	out := outcome{head: []string{"Record", "Kind", "What happens"}}
	for _, r := range c.New {
		k := timeline.KindOfRecord(r)
		out.rows = append(out.rows, []string{k.NameOf(r), k.Name, "is added"})
	}
	what := "differs: ours stays"
	if replace {
		what = "differs: theirs"
	}
	for _, x := range c.Conflicts {
		k := timeline.KindOf(x.Ref.Kind)
		out.rows = append(out.rows, []string{k.NameOf(x.Theirs), k.Name, what})
	}
	out.lines = append(out.lines, fmt.Sprintf("%s new, %d alike in both shows and left alone, %d different.", counted(len(c.New), "record"), len(c.Same), len(c.Conflicts)))
	if len(c.New) > 0 || replace && len(c.Conflicts) > 0 {
		out.change = change{"take stock", []timeline.Edit{c.Edit(replace)}}
	}
	return out
}

func hasAll(text string, words []string) bool {
	for _, w := range words {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}
