package app

import (
	"errors"
	"strconv"
	"strings"

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
