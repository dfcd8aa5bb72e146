package app

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"emberbeat/shows"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

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
