package app

import (
	"image"
	"path/filepath"
	"slices"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/export"
	"emberbeat/render/paper"
	"emberbeat/render/sheet"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/shows/report/crew"
	"emberbeat/timeline"
)

// exportDialog chooses what leaves the program, in which form, and where to.
type exportDialog struct {
	ask    export.Ask
	folder string
	name   string
	own    bool // the user has written the name
	sel    widget.Selection
	over   []string // foreign files that would be overwritten, once that has been said
	bad    string
	open   bool // it has been drawn
}

// askExport opens the dialog with what was asked for last, for what is in view.
func (a *App) askExport() { a.askExportOf("") }

// askExportOf opens the dialog on one thing.
func (a *App) askExportOf(item string) {
	d := &exportDialog{ask: a.lastAsk, folder: a.exportFolder}
	if d.folder == "" {
		d.folder = filepath.Dir(a.work.Session.Dir())
	}
	q := &d.ask
	if q.Item == "" {
		*q = export.Ask{Item: "cue-list", Format: "csv", Paper: sheet.PaperOf(a.work.Session.Show()).Name, Page: 1, Sample: 48000, Bits: 16, Level: 120}
	}
	if item == "" {
		item = q.Item
	}
	q.Night, q.Set, q.Song, q.Bars = a.work.Night, "", "", ""
	d.choose(a, item)
	a.dialog = d
}

// choose takes another thing to export, and keeps what still fits.
func (d *exportDialog) choose(a *App, item string) {
	q := &d.ask
	if item == export.All && q.Item != item {
		q.Format = "" // a folder of sheets is for printing, whatever was written last
	}
	q.Item = item
	x := q.Find()
	d.sel.Only(slices.IndexFunc(export.Items(), func(y export.Item) bool { return y.ID == x.ID }))
	if !slices.Contains(x.Formats, q.Format) {
		q.Format = x.Formats[0]
	}
	if x.Sound != nil && x.Sound.OneSong && q.Song == "" {
		q.Song = a.work.Song
	}
	d.rename(a)
}

// rename makes the name anew, unless the user has written it.
func (d *exportDialog) rename(a *App) {
	d.over, d.bad = nil, ""
	if !d.own {
		d.name = d.ask.FileName(a.work.Session.Show())
		return
	}
	if ext := filepath.Ext(d.name); ext != "" && d.ask.Item != export.All {
		d.name = strings.TrimSuffix(d.name, ext) + "." + d.ask.Format
	}
}

func (d *exportDialog) draw(a *App) bool {
	u := a.ui
	b := u.BeginDialog("export", "Export", 900, 560)
	k := u.Stack(b.Body, 14)
	items := export.Items()
	spec := widget.TableSpec{Columns: []widget.Column{{}}, Rows: len(items), Cell: func(t []byte, row, _ int) []byte { return append(t, items[row].Title...) }}
	if !d.open {
		d.open = true
		u.Focus("what")
	}
	e := u.List("what", k.Left(230), &d.sel, &spec)
	if e.Changed {
		d.choose(a, items[d.sel.Cursor].ID)
	}
	right := u.Stack(k.Rest(), 8)
	x := d.ask.Find()
	help := upper(x.Help) + "."
	h := u.ParagraphHeight(right.Rest().Dx(), render.TypeSmall, help) * 100 / int(u.Scene().Scale)
	u.Paragraph(right.Top(h+4), render.TypeSmall, render.InkSecondary, help)
	foot := "What stands in it is what the plan says now, saved or not. " + report.Caution
	if x.Sound != nil {
		foot = "It holds timecode, ticks or tempo, and never a command. " + report.Caution
		if x.Sound.Warning != "" {
			foot = upper(x.Sound.Warning) + ". " + foot
		}
	}
	h = u.ParagraphHeight(right.Rest().Dx(), render.TypeSmall, foot) * 100 / int(u.Scene().Scale)
	u.Paragraph(right.Bottom(h+4), render.TypeSmall, render.InkSecondary, foot)
	d.said(a, &right)
	f := u.Form(right.Rest(), 90)
	u.Push(x.ID)
	d.part(a, &f, x)
	d.form(a, &f, x)
	u.Pop()
	d.place(a, &f, x)
	why := d.ask.NotMarked()
	if why == "" {
		why = needEdit(a)
	}
	d.ask.Print = u.Off(why).Checkbox("mark", f.Row("Print"), "Mark as printed", d.ask.Print)
	if why == "" {
		u.Tip("The show remembers how it looks, so that Tonight can say which sheets have to be printed again", "")
	}
	return d.answer(a, &b, e.Used)
}

// said shows what went wrong, or what would be overwritten.
func (d *exportDialog) said(a *App, k *widget.Stack) {
	text := d.bad
	if len(d.over) > 0 {
		text = "There already: " + baseNames(d.over) + ". Press Overwrite to put the new in its place, or choose another name."
	}
	if text == "" {
		return
	}
	u := a.ui
	s := u.Scene()
	h := u.ParagraphHeight(k.Rest().Dx()-s.Px(render.BadgeSize+8), render.TypeLabel, text) * 100 / int(s.Scale)
	row := u.Stack(k.Bottom(max(h+2, render.BadgeSize)), 8)
	badge := row.Left(render.BadgeSize)
	s.Badge(badge.Min, render.SevWarning)
	u.Paragraph(row.Rest(), render.TypeLabel, render.InkText, text)
}

// part draws which part of the show is exported.
func (d *exportDialog) part(a *App, f *widget.Form, x *export.Item) {
	u, q, show := a.ui, &d.ask, a.work.Session.Show()
	if x.ID == export.Picture {
		why := ""
		if a.work.Data == nil {
			why = "the show has no song"
		}
		title := ""
		if g := a.work.InView(); g != nil {
			title = g.FullTitle()
		}
		u.Off(why).Dropdown("song-in-view", f.Row("Song"), []string{title}, 0)
		u.Tip("The song in view in the timeline", "")
		return
	}
	ids, names := []timeline.ID{""}, []string{"the tour"}
	for _, n := range show.Nights {
		ids, names = append(ids, n.ID), append(names, n.Name)
	}
	d.pick(a, "night", f.Row("Night"), &q.Night, ids, names, "")
	ids, names = []timeline.ID{""}, []string{"the tour's own"}
	for _, s := range show.Sets {
		ids, names = append(ids, s.ID), append(names, s.Name)
	}
	why, set := "", &q.Set
	if n := show.Night(q.Night); n != nil {
		why = "the night plays the set it names: change it on the page Nights"
		if played := show.SetOf(n); played != nil {
			set = &played.ID
		}
	}
	d.pick(a, "set", f.Row("Set"), set, ids, names, why)
	d.partSong(a, f, x)
}

// partSong draws the choice of song and bars.
func (d *exportDialog) partSong(a *App, f *widget.Form, x *export.Item) {
	u, q := a.ui, &d.ask
	ids, names := []timeline.ID{""}, []string{"all songs"}
	if x.Sound != nil && x.Sound.OneSong {
		ids, names = nil, nil
	}
	for _, g := range a.work.Setlist() {
		ids, names = append(ids, g.ID), append(names, g.FullTitle())
	}
	why := ""
	if x.Sheet != nil && !x.Sheet.BySong || export.Every(x.ID) || x.ID == export.CrewPage {
		why = "this shows the whole night or tour"
	}
	row := u.Stack(f.Row("Song"), 8)
	bars := row.Right(150)
	d.pick(a, "song", row.Rest(), &q.Song, ids, names, why)
	if why == "" && x.Sound != nil && x.Sound.Name != "ticks" {
		why = "it holds whole songs"
	}
	e := u.Off(why).TextField("bars", bars, q.Bars, widget.TextSpec{Hint: "bars, as in 17-24", Check: checkBars})
	if e.Changed || e.Committed {
		q.Bars, d.bad = e.Text, ""
	}
}

func checkBars(text string) error {
	if strings.TrimSpace(text) == "" {
		return nil
	}
	_, err := report.ParseBars(strings.TrimSpace(text))
	return err
}

// pick draws a choice by id.
func (d *exportDialog) pick(a *App, key string, r image.Rectangle, now *timeline.ID, ids []timeline.ID, names []string, why string) {
	at := slices.Index(ids, *now)
	if why == "" && at < 0 && len(ids) > 0 {
		at, *now = 0, ids[0]
	}
	if i, changed := a.ui.Off(why).Dropdown(key, r, names, at); changed {
		*now = ids[i]
		d.rename(a)
	}
}

// form draws in which form it is written.
func (d *exportDialog) form(a *App, f *widget.Form, x *export.Item) {
	u, q := a.ui, &d.ask
	row := u.Stack(f.Row("Format"), 8)
	if now, changed := u.Dropdown("format", row.Left(100), x.Formats, slices.Index(x.Formats, q.Format)); changed {
		q.Format = x.Formats[now]
		d.rename(a)
	}
	if x.ID == export.Picture {
		return
	}
	rates, labels := []string{""}, []string{"the show's timecode"}
	for _, r := range timeline.Rates() {
		rates, labels = append(rates, r.String()), append(labels, "timecode "+r.String())
	}
	if now, changed := u.Dropdown("rate", row.Left(180), labels, slices.Index(rates, q.Rate)); changed {
		q.Rate, d.bad = rates[now], ""
	}
	u.Tip("Songs keep the labels they start at, and their music keeps its times", "")
	switch {
	case x.Sound != nil:
		d.sounds(a, f, x)
		return
	case x.ID == export.CrewPage:
		d.crew(a, f)
		return
	}
	why := ""
	if !export.OnPaper(q.Format) {
		why = q.Format + " is not printed"
	}
	var sizes []string
	for _, z := range paper.Sizes() {
		sizes = append(sizes, z.Name)
	}
	if now, changed := u.Off(why).Dropdown("paper", row.Left(100), sizes, slices.Index(sizes, q.Paper)); changed {
		q.Paper = sizes[now]
	}
	if why == "" && !export.Paged(q.Format) {
		why = q.Format + " holds all pages"
	}
	page := widget.NumberSpec{Units: []widget.Unit{{Name: "page", Num: 1, Den: 1}}, Min: 1, Max: 9999, Step: 1, Fine: 1, Big: 10}
	if e := u.Off(why).Number("page", row.Left(90), q.Page, &page); e.Changed {
		q.Page, d.bad = e.Value, ""
	}
}

// crew draws what a crew page holds beyond the plan.
func (d *exportDialog) crew(a *App, f *widget.Form) {
	u, q := a.ui, &d.ask
	readers := append([]string{"everybody"}, crew.Readers()...)
	row := u.Stack(f.Row("For"), 8)
	if now, changed := u.Dropdown("reader", row.Left(180), readers, max(slices.Index(readers, q.Reader), 0)); changed {
		if q.Reader = readers[now]; now == 0 {
			q.Reader = ""
		}
		d.rename(a)
	}
	u.Tip("A page for spotters is without explosives in figures, order lists and persons", "")
	if on := u.Checkbox("heard", row.Rest(), "With sound", q.Heard); on != q.Heard {
		q.Heard = on
		d.rename(a)
	}
	u.Tip("Small sound of the channels that may be heard, never of timecode, until the page has 25 MB of it", "")
}

// sounds draws how a sound file is made.
func (d *exportDialog) sounds(a *App, f *widget.Form, x *export.Item) {
	u, q := a.ui, &d.ask
	why := ""
	if !x.Sound.Sound {
		why = "the file holds no sound"
	}
	u.PushOff(why)
	defer u.PopOff()
	row := u.Stack(f.Row("Sound"), 8)
	samples, words := []int64{44100, 48000, 96000}, []string{"44.1 kHz", "48 kHz", "96 kHz"}
	if now, changed := u.Dropdown("samples", row.Left(100), words, slices.Index(samples, q.Sample)); changed {
		q.Sample = samples[now]
	}
	bits := []int{16, 24}
	if now, changed := u.Dropdown("bits", row.Left(80), []string{"16 bit", "24 bit"}, slices.Index(bits, q.Bits)); changed {
		q.Bits = bits[now]
	}
	level := widget.NumberSpec{Units: []widget.Unit{{Name: "dB below full", Num: 10, Den: 1}}, Digits: 1, Max: 600, Step: 10, Fine: 1, Big: 60}
	if e := u.Number("level", row.Left(150), q.Level, &level); e.Changed {
		q.Level = e.Value
	}
	u.Tip("Of the peaks", "")
	if why == "" && x.Sound.Name != "ltc" {
		why = "only timecode has a pre-roll"
	}
	e := u.Off(why).TextField("pre-roll", row.Rest(), q.Roll, widget.TextSpec{Hint: "pre-roll: each song's"})
	u.Tip("Seconds of timecode before each song; empty is each song's own", "")
	if e.Changed || e.Committed {
		q.Roll, d.bad = e.Text, ""
	}
}

// place draws where the export goes.
func (d *exportDialog) place(a *App, f *widget.Form, x *export.Item) {
	u := a.ui
	row := u.Stack(f.Row("Folder"), 8)
	if u.Button("browse", row.Right(84), "Browse…") {
		d.browse(a)
	}
	e := u.TextField("folder", row.Rest(), d.folder, widget.TextSpec{})
	if e.Changed || e.Committed {
		d.folder, d.over, d.bad = e.Text, nil, ""
	}
	word := "File"
	if x.ID == export.All {
		word = "New folder"
	}
	e = u.TextField("file", f.Row(word), d.name, widget.TextSpec{})
	if e.Changed || e.Committed {
		d.own, d.name, d.over, d.bad = true, e.Text, nil, ""
	}
}

// browse chooses the folder, and comes back.
func (d *exportDialog) browse(a *App) {
	b := a.browse("", "Export into which folder?", "Export here", func(path string) {
		d.folder, d.over, d.bad, d.open = path, nil, "", false
		a.dialog = d
	})
	b.b.Folder = d.folder
	b.b.Save, b.b.Name = true, "."
	b.left = func() { d.open, a.dialog = false, d }
}

// answer draws the buttons and does what they say; used says that a thing in the list was used, which exports it.
func (d *exportDialog) answer(a *App, b *widget.Dialog, used bool) bool {
	verb, why := "Export", ""
	if len(d.over) > 0 {
		verb = "Overwrite"
	}
	switch {
	case strings.TrimSpace(d.name) == "":
		why = "write a name for the file first"
	case len(a.jobs) > 0 && slices.ContainsFunc(a.jobs, func(j *job) bool { return strings.HasPrefix(j.name, "exporting ") }):
		why = "another export goes on; it can be cancelled at the bottom right"
	}
	choice := b.Buttons(widget.Choice{Label: "Cancel"}, widget.Choice{Label: verb, Main: true, Off: why})
	b.End()
	if used && why == "" {
		choice = 1
	}
	if choice != 1 {
		return choice == 0 || b.Closed
	}
	d.ask.Path = filepath.Join(d.folder, strings.TrimSpace(d.name))
	if foreign := a.wrote.foreign(d.ask.Names()); len(foreign) > 0 && len(d.over) == 0 {
		d.over = foreign
		a.say("asked to overwrite %d", len(foreign))
		return false
	}
	a.lastAsk, a.exportFolder = d.ask, d.folder
	a.export(d)
	return a.dialog == d && d.bad == ""
}
