package app

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/render/sheet"
	"emberbeat/shows/report"
	"emberbeat/shows/report/stripe"
	"emberbeat/timeline"
)

// exportItem is one thing that can leave the program.
type exportItem struct {
	id, title, help string
	formats         []string
	sheet           *sheet.Kind        // nil for others
	sound           *stripe.SoundOffer // nil for others
}

// Ids of what is neither sheet nor sound.
const (
	exportAll     = "all"
	exportPicture = "picture"
)

// exportItems lists all that can leave the program, in the order of the dialog.
func exportItems() []exportItem {
	list := []exportItem{{id: exportAll, title: "All sheets, into a folder", help: "every sheet of the night or the tour, each as a file of its own", formats: []string{"pdf", "csv", "json"}}}
	for _, o := range sheet.Kinds() {
		list = append(list, exportItem{id: o.Name, title: o.Title, help: o.Help, formats: sheet.Formats(), sheet: &o})
	}
	for _, o := range stripe.SoundOffers() {
		list = append(list, exportItem{id: o.Name, title: o.Title, help: o.Help, formats: []string{o.Format}, sound: &o})
	}
	return append(list, exportItem{id: exportPicture, title: "Picture of a song", help: "a song's lanes, cues and findings as they are drawn in the window, in the theme Day", formats: []string{"png"}})
}

// paged reports whether a format shows one page.
func paged(format string) bool { return format == "png" || format == "svg" }

// onPaper reports whether a format is printed.
func onPaper(format string) bool { return format == "pdf" || paged(format) }

// exportAsk is what is asked for: which part of the show, how, and where to.
type exportAsk struct {
	item   string
	format string
	song   timeline.ID // "" = all
	bars   string
	night  timeline.ID // "" = the tour
	set    timeline.ID // of the tour; "" = its own
	rate   string
	paper  string
	page   int64
	sample int64
	bits   int
	level  int64  // tenths of a decibel below full scale
	roll   string // seconds; "" = each song's own
	print  bool   // the sheets count as printed
	file   string
}

// find gives the item that is asked for.
func (q *exportAsk) find() *exportItem {
	items := exportItems()
	i := slices.IndexFunc(items, func(x exportItem) bool { return x.id == q.item })
	return &items[max(i, 0)]
}

// plan compiles the part of a show that is asked for.
func (q *exportAsk) plan(show *timeline.Show) (*timeline.Plan, report.Filter, error) {
	var f report.Filter
	night := show.Night(q.night)
	if night == nil && q.set != "" {
		own, head := *show, *show.Head
		head.Set = q.set
		own.Head = &head
		show = &own
	}
	if q.rate != "" {
		rate, err := timeline.ParseRate(q.rate)
		if err != nil {
			return nil, f, err
		}
		if show, err = report.AtRate(show, night, rate); err != nil {
			return nil, f, fmt.Errorf("rate %s: %w; give the song a start that exists at that rate", q.rate, err)
		}
	}
	f.Song = q.song
	if text := strings.TrimSpace(q.bars); text != "" {
		bars, err := report.ParseBars(text)
		if err != nil {
			return nil, f, err
		}
		f.Bars = bars
	}
	p := timeline.Compile(show, show.Night(q.night))
	if q.song != "" && !slices.ContainsFunc(p.Songs, func(ps timeline.PlanSong) bool { return ps.Song.ID == q.song }) {
		return nil, f, fmt.Errorf("the running order does not play this song; choose another song or set")
	}
	return p, f, nil
}

// stripe gives the options of sound files.
func (q *exportAsk) stripe() (stripe.StripeOptions, error) {
	o := stripe.StripeOptions{SampleRate: int(q.sample), Bits: q.bits, Level: -float64(q.level) / 10}
	if text := strings.TrimSpace(q.roll); text != "" {
		t, err := timeline.ParseTime(text)
		if err == nil && t < 0 {
			err = fmt.Errorf("%s is negative", text)
		}
		if err != nil {
			return o, fmt.Errorf("pre-roll: %w; write seconds, or nothing for each song's own", err)
		}
		o.PreRoll = &t
	}
	return o, nil
}

// made is a file that is ready to be written.
type made struct {
	name  string // below the folder, or the whole path
	write func(io.Writer) error
	bytes int64 // its size, 0 where it is not known

	mark *timeline.PrintMark // the sheet counts as printed once it is written; nil = it does not
}

// make makes what is asked for of a show. A picture is drawn by the window, and not here.
func (q *exportAsk) make(show *timeline.Show) ([]made, error) {
	item := q.find()
	p, f, err := q.plan(show)
	if err != nil {
		return nil, err
	}
	switch {
	case item.id == exportAll:
		return q.makeAll(p)
	case item.sound != nil:
		o, err := q.stripe()
		if err != nil {
			return nil, err
		}
		file, err := item.sound.Make(p, f, o)
		return []made{{name: q.file, write: file.Write, bytes: file.Bytes}}, err
	}
	printed, err := item.sheet.Make(p, f)
	if err != nil {
		return nil, err
	}
	size, err := paper.SizeNamed(q.paper)
	file := made{name: q.file, write: func(w io.Writer) error { return sheet.Write(w, printed, q.format, size, int(q.page)) }}
	file.mark = q.markOf(p, item.id, printed)
	return []made{file}, err
}

// work.markOf gives the mark of a sheet that counts as printed, or nil.
func (q *exportAsk) markOf(p *timeline.Plan, name string, printed sheet.Sheet) *timeline.PrintMark {
	if !q.print || q.notMarked() != "" {
		return nil
	}
	m := sheet.PrintedMark(p, name, printed)
	return &m
}

// notMarked says why what is written does not count as printed: a mark is for a whole sheet as the show has it.
func (q *exportAsk) notMarked() string {
	x := q.find()
	switch {
	case x.sheet == nil && x.id != exportAll:
		return "it is no sheet"
	case !onPaper(q.format):
		return q.format + " is not printed"
	case paged(q.format):
		return q.format + " holds one page; print the sheet as pdf"
	case x.id != exportAll && (q.song != "" || strings.TrimSpace(q.bars) != ""), q.set != "" && q.night == "", q.rate != "":
		return "a mark is for the whole sheet as the show has it: leave song, bars, set and timecode as they are"
	}
	return ""
}

// makeAll makes every sheet of a plan; those about a night are left out on the tour.
func (q *exportAsk) makeAll(p *timeline.Plan) ([]made, error) {
	size, err := paper.SizeNamed(q.paper)
	if err != nil {
		return nil, err
	}
	var all []made
	for _, o := range sheet.Kinds() {
		if o.Night && p.Night == nil {
			continue
		}
		printed, err := o.Make(p, report.Filter{})
		if err != nil {
			return nil, fmt.Errorf("%s: %w", o.Title, err)
		}
		all = append(all, made{name: filepath.Join(q.file, o.Name+"."+q.format), write: func(w io.Writer) error { return sheet.Write(w, printed, q.format, size, 1) }, mark: q.markOf(p, o.Name, printed)})
	}
	return all, nil
}

// names gives the paths of the files that an export would write, as far as that is known before.
func (q *exportAsk) names() []string {
	if q.item != exportAll {
		return []string{q.file}
	}
	var names []string
	for _, o := range sheet.Kinds() {
		names = append(names, filepath.Join(q.file, o.Name+"."+q.format))
	}
	return names
}

// fileName gives the name that an export has to begin with.
func (a *App) fileName(q *exportAsk) string {
	show := a.work.Session.Show()
	name := q.item
	if n := show.Night(q.night); n != nil {
		name = n.Slug + "-" + name
	}
	if s := show.Song(q.song); s != nil {
		name += "-" + s.Slug
	}
	if q.item == exportAll {
		return strings.TrimSuffix(name, exportAll) + "sheets"
	}
	return name + "." + q.format
}
