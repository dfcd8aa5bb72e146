package export

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"emberbeat/render/crewpage"
	"emberbeat/render/paper"
	"emberbeat/render/sheet"
	"emberbeat/shows/report"
	"emberbeat/shows/report/stripe"
	"emberbeat/timeline"
)

// Ask is what is asked for: which part of the show, how, and where to.
type Ask struct {
	Item   string      // its id
	Format string      // one of the item's
	Song   timeline.ID // "" = all
	Bars   string      // such as 17-24; "" = all
	Night  timeline.ID // "" = the tour
	Set    timeline.ID // of the tour; "" = its own
	Rate   string      // of timecode; "" = the show's
	Paper  string      // name of its size
	Page   int64       // of a format that shows one
	Sample int64       // frames of sound a second
	Bits   int         // of a sample
	Level  int64       // tenths of a decibel below full scale
	Roll   string      // seconds; "" = each song's own
	Print  bool        // the sheets count as printed
	Heard  bool        // a crew page with sound
	Reader string      // whom a crew page is for, see crew.Readers; "" = everybody
	Made   string      // when a crew page is made, in words
	Path   string      // of the file, or of the folder of sheets
}

// Find gives the item that is asked for.
func (q *Ask) Find() *Item {
	items := Items()
	i := slices.IndexFunc(items, func(x Item) bool { return x.ID == q.Item })
	return &items[max(i, 0)]
}

// Plan compiles the part of a show that is asked for; a night that is over as it was
// played.
func (q *Ask) Plan(show *timeline.Show) (*timeline.Plan, report.Filter, error) {
	var f report.Filter
	show = sheet.Told(show, q.Format)
	show, night := show.AsPlayed(show.Night(q.Night))
	if night == nil && q.Set != "" {
		own, head := *show, *show.Head
		head.Set = q.Set
		own.Head = &head
		show = &own
	}
	if q.Rate != "" {
		rate, err := timeline.ParseRate(q.Rate)
		if err != nil {
			return nil, f, err
		}
		if show, err = report.AtRate(show, night, rate); err != nil {
			return nil, f, fmt.Errorf("rate %s: %w; give the song a start that exists at that rate", q.Rate, err)
		}
	}
	f.Song = q.Song
	if text := strings.TrimSpace(q.Bars); text != "" {
		bars, err := report.ParseBars(text)
		if err != nil {
			return nil, f, err
		}
		f.Bars = bars
	}
	p := timeline.Compile(show, show.Night(q.Night))
	if q.Song != "" && !slices.ContainsFunc(p.Songs, func(ps timeline.PlanSong) bool { return ps.Song.ID == q.Song }) {
		return nil, f, fmt.Errorf("the running order does not play this song; choose another song or set")
	}
	return p, f, nil
}

// stripe gives the options of sound files.
func (q *Ask) stripe() (stripe.StripeOptions, error) {
	o := stripe.StripeOptions{SampleRate: int(q.Sample), Bits: q.Bits, Level: -float64(q.Level) / 10}
	if text := strings.TrimSpace(q.Roll); text != "" {
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

// Make makes what is asked for of a show. A picture is drawn by the window, and not here.
func (q *Ask) Make(show *timeline.Show) ([]File, error) {
	item := q.Find()
	p, f, err := q.Plan(show)
	if err != nil {
		return nil, err
	}
	switch {
	case Every(item.ID):
		return q.makeAll(p)
	case item.Sound != nil:
		o, err := q.stripe()
		if err != nil {
			return nil, err
		}
		file, err := item.Sound.Make(p, f, o)
		return []File{{Name: q.Path, Fill: file.Write, bytes: file.Bytes}}, err
	}
	printed, err := item.Sheet.Make(p, f)
	if err != nil {
		return nil, err
	}
	size, err := paper.SizeNamed(q.Paper)
	file := File{Name: q.Path, Fill: func(w io.Writer) error { return sheet.WriteFile(w, printed, q.Format, size, int(q.Page)) }}
	file.Marks = q.marksOf(p, item.ID, printed)
	return []File{file}, err
}

// MakePage makes the crew page that is asked for, with what songs sound like.
func (q *Ask) MakePage(ctx context.Context, show *timeline.Show, sound crewpage.Recordings) ([]File, error) {
	p, _, err := q.Plan(show)
	if err != nil {
		return nil, err
	}
	page, err := crewpage.New(ctx, q.page(p, sound))
	if err != nil {
		return nil, err
	}
	return []File{{Name: q.Path, Fill: page.Write, Told: append([]string{"page " + page.Hash}, page.Silent()...)}}, nil
}

func (q *Ask) page(p *timeline.Plan, sound crewpage.Recordings) crewpage.Ask {
	a := crewpage.AskOf(p)
	a.Reader, a.Made, a.Recordings, a.Sound = q.Reader, q.Made, sound, q.Heard
	return a
}

// marksOf gives the mark of a sheet that counts as printed, or none.
func (q *Ask) marksOf(p *timeline.Plan, name string, printed sheet.Sheet) []timeline.PrintMark {
	if !q.Print || q.NotMarked() != "" {
		return nil
	}
	return []timeline.PrintMark{sheet.PrintedMark(p, name, printed)}
}

// NotMarked says why what is written does not count as printed: a mark is for a whole sheet as the show has it.
func (q *Ask) NotMarked() string {
	x := q.Find()
	switch {
	case x.Sheet == nil && !Every(x.ID):
		return "it is no sheet"
	case !OnPaper(q.Format):
		return q.Format + " is not printed"
	case Paged(q.Format):
		return q.Format + " holds one page; print the sheet as pdf"
	case !Every(x.ID) && (q.Song != "" || strings.TrimSpace(q.Bars) != ""), q.Set != "" && q.Night == "", q.Rate != "":
		return "a mark is for the whole sheet as the show has it: leave song, bars, set and timecode as they are"
	}
	return ""
}

// makeAll makes every sheet of a plan with the summary in front; those about a night
// are left out on the tour.
func (q *Ask) makeAll(p *timeline.Plan) ([]File, error) {
	size, err := paper.SizeNamed(q.Paper)
	if err != nil {
		return nil, err
	}
	front, made, err := sheet.All(p, report.Filter{}, size, q.Item == Bound)
	if err != nil {
		return nil, err
	}
	one := File{Name: q.Path, Fill: func(w io.Writer) error { return sheet.WriteAll(w, front, made, size) }}
	all := []File{q.fileOf(front, size)}
	for _, m := range made {
		file := q.fileOf(m, size)
		file.Marks = q.marksOf(p, m.Name, m.Sheet)
		all, one.Marks = append(all, file), append(one.Marks, file.Marks...)
	}
	if q.Item == Bound {
		return []File{one}, nil
	}
	return all, nil
}

func (q *Ask) fileOf(m sheet.Made, size paper.Size) File {
	return File{Name: filepath.Join(q.Path, m.Name+"."+q.Format), Fill: func(w io.Writer) error { return sheet.WriteFile(w, m.Sheet, q.Format, size, 1) }}
}

// Names gives the paths of the files that an export would write, as far as that is known before.
func (q *Ask) Names() []string {
	if q.Item != All {
		return []string{q.Path}
	}
	names := []string{filepath.Join(q.Path, sheet.FrontName+"."+q.Format)}
	for _, o := range sheet.Kinds() {
		names = append(names, filepath.Join(q.Path, o.Name+"."+q.Format))
	}
	return names
}

// FileName gives the name that an export of a show has to begin with.
func (q *Ask) FileName(show *timeline.Show) string {
	if q.Item == CrewPage {
		return crewpage.FileName(show.Night(q.Night), crewpage.Ask{Reader: q.Reader, Sound: q.Heard})
	}
	name := q.Item
	if n := show.Night(q.Night); n != nil {
		name = n.Slug + "-" + name
	}
	if s := show.Song(q.Song); s != nil {
		name += "-" + s.Slug
	}
	if q.Item == All {
		return strings.TrimSuffix(name, All) + Bound
	}
	return name + "." + q.Format
}
