package setpicture

import (
	"image"
	"slices"
	"sort"

	"emberbeat/render"
	"emberbeat/shows/report/course"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// View says what is drawn of an evening, and where.
type View struct {
	Area   image.Rectangle // in device pixels
	Course *course.Course
	Each   bool    // each song from its own start, one below the other, in place of all over one line of time
	Sounds []Sound // of the songs, by their place
	Marks  []Mark  // findings
	Groups int     // that the findings are of
	Scroll int     // device pixels by which the rows are moved up
	All    bool    // all supplies, however many there are
	Song   int     // place of the song in view elsewhere, -1 for none
	Held   int     // 1 + place of the song whose head is dragged, 0 for none
	Cursor *course.Place
	Told   units.System // in which masses are written
}

// Sound is how loud a recording is over its time.
type Sound struct {
	Levels []uint8 // one a second, 255 for its loudest
	Why    string  // there are none, such as "no recording"
}

// Mark is a finding.
type Mark struct {
	course.Place
	Timed    bool // it stands at a time; else it is of the whole song
	Severity render.Severity
	Finding  int // its place among the findings
}

// What can be hit.
const (
	HitHead    render.HitKind = "set-head"    // the head of a song; its id is the song's place
	HitTime    render.HitKind = "set-time"    // what stands over the line of time
	HitFinding render.HitKind = "set-finding" // one finding or several; the id is the place of the first among the findings
	HitMore    render.HitKind = "set-more"    // where supplies are left out, or all shown
)

// What a row shows.
type kind uint8

const (
	energyRow kind = iota
	hitRow
	supplyRow
	moreRow
	shotRow
	armRow
	findingRow
	songRow
)

// row is a row of the picture.
type row struct {
	kind kind
	of   int // supply or song, by its place
	high int // logical
	box  image.Rectangle
}

// Logical sizes.
const (
	gutterWide   = 168
	gutterNarrow = 118
	narrow       = 760
	headHigh     = 42
	energyHigh   = 84
	hitsHigh     = 190
	supplyHigh   = 88
	moreHigh     = 26
	shotHigh     = 50
	armHigh      = 24 // and for each line of it
	armLine      = 16
	armLeast     = 58 // for what is written beside them
	findingHigh  = 56
	songHigh     = 64
	songMost     = 110
	energyLeast  = 44
	hitsLeast    = 96
	supplyLeast  = 60
	shotLeast    = 34
	findingLeast = 36
	textHigh     = 16
)

// ManySupplies is how many supplies are shown at once; of more, the worst stand for all until all are asked for.
const (
	ManySupplies  = 20
	worstSupplies = 4
	mostArms      = 4
)

// Layout is a View as it was drawn: what lies where.
type Layout struct {
	v      View
	s      *render.Scene
	th     *render.Theme
	Heads  image.Rectangle // the row of heads; it does not scroll
	Rows   image.Rectangle // what does
	Axis   image.Rectangle // all that has a place in time, of the rows
	Scroll int             // as far as it could be followed
	High   int             // of all rows together, in device pixels
	rows   []row
	starts []timeline.Time // where songs stand on the line of time; not those of the set where a length is not known
	end    timeline.Time
	taken  []image.Rectangle // by texts of the row that is drawn
}

// newLayout finds where everything stands.
func newLayout(s *render.Scene, th *render.Theme, v *View) *Layout {
	d := &Layout{v: *v, s: s, th: th}
	for i := range v.Course.Songs {
		x := &v.Course.Songs[i]
		d.starts = append(d.starts, d.end)
		if v.Each {
			d.starts[i] = 0
			d.end = max(d.end, x.Long)
			continue
		}
		d.end += d.long(i)
		if i+1 < len(v.Course.Songs) {
			d.end += x.Entry.Gap
		}
	}
	if v.Each {
		d.end = max(d.end, shortest)
	}
	gutter := gutterWide
	if v.Area.Dx() < s.Px(narrow) {
		gutter = gutterNarrow
	}
	left := min(v.Area.Min.X+s.Px(gutter), v.Area.Max.X)
	head := s.Px(headHigh)
	if v.Each {
		head = 0
	}
	d.Heads = image.Rect(v.Area.Min.X, v.Area.Min.Y, v.Area.Max.X, min(v.Area.Min.Y+head, v.Area.Max.Y))
	d.Rows = image.Rect(v.Area.Min.X, d.Heads.Max.Y, v.Area.Max.X, v.Area.Max.Y)
	d.Axis = image.Rect(left, d.Rows.Min.Y, max(v.Area.Max.X-s.Px(8), left), d.Rows.Max.Y)
	d.listRows()
	d.share()
	return d
}

// shortest is as long as a song is drawn at least, so that its head can be found.
const shortest = 20 * timeline.Second

// long gives how long a song is drawn.
func (d *Layout) long(i int) timeline.Time { return max(d.v.Course.Songs[i].Long, shortest) }

// listRows says which rows there are, each as low as it may be.
func (d *Layout) listRows() {
	c := d.v.Course
	add := func(k kind, of, high int) { d.rows = append(d.rows, row{kind: k, of: of, high: high}) }
	if d.v.Each {
		for i := range c.Songs {
			add(songRow, i, songHigh)
		}
		return
	}
	add(energyRow, 0, energyLeast)
	add(hitRow, 0, hitsLeast)
	shown := d.supplies()
	for _, i := range shown {
		add(supplyRow, i, supplyLeast)
	}
	if len(c.Supplies) > ManySupplies {
		add(moreRow, len(c.Supplies)-len(shown), moreHigh)
	}
	if c.Singles > 0 {
		add(shotRow, 0, shotLeast)
	}
	if n := len(c.Arms); n > 0 {
		add(armRow, 0, max(armHigh+armLine*min(n, mostArms), armLeast))
	}
	add(findingRow, 0, findingLeast)
}

// supplies gives the places of those that are shown: all in the order of the rig, or of too many the worst.
func (d *Layout) supplies() []int {
	list := d.v.Course.Supplies
	all := make([]int, len(list))
	for i := range all {
		all[i] = i
	}
	if len(list) <= ManySupplies || d.v.All {
		return all
	}
	slices.SortStableFunc(all, func(a, b int) int {
		x, y := list[a].Trouble(), list[b].Trouble()
		switch {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return all[:worstSupplies]
}

// share gives the free height to the rows: first each what it likes best to have, hits before supplies, then hits and supplies what is left. Where
// there is none, the rows scroll.
func (d *Layout) share() {
	px := func(n int) int { return d.s.Px(n) }
	free := d.Rows.Dy()
	for _, r := range d.rows {
		free -= px(r.high)
	}
	grow := func(k kind, to int) {
		for i := range d.rows {
			r := &d.rows[i]
			if r.kind != k || r.high >= to || free <= 0 {
				continue
			}
			more := min(px(to)-px(r.high), free)
			free -= more
			r.high += more * 100 / int(d.s.Scale)
		}
	}
	grow(hitRow, hitsHigh)
	grow(supplyRow, supplyHigh)
	grow(energyRow, energyHigh)
	grow(shotRow, shotHigh)
	grow(findingRow, findingHigh)
	if n := len(d.rows); d.v.Each && n > 0 {
		grow(songRow, min(songHigh+max(free, 0)*100/int(d.s.Scale)/n, songMost))
	}
	grow(hitRow, hitsHigh*2)
	for _, r := range d.rows {
		d.High += px(r.high)
	}
	d.Scroll = min(max(d.v.Scroll, 0), max(d.High-d.Rows.Dy(), 0))
	y := d.Rows.Min.Y - d.Scroll
	for i := range d.rows {
		d.rows[i].box = image.Rect(d.v.Area.Min.X, y, d.v.Area.Max.X, y+px(d.rows[i].high))
		y = d.rows[i].box.Max.Y
	}
}

// X gives where a place is drawn.
func (d *Layout) X(p course.Place) int {
	at := d.starts[p.Song] + p.At
	return d.Axis.Min.X + int(int64(at/timeline.Millisecond)*int64(d.Axis.Dx())/max(int64(d.end/timeline.Millisecond), 1))
}

// in gives the part of a row between two times of a song, at least a pixel wide and inside the axis.
func (d *Layout) in(r image.Rectangle, song int, from, to timeline.Time) image.Rectangle {
	a := min(max(d.X(course.Place{Song: song, At: from}), d.Axis.Min.X), d.Axis.Max.X)
	z := min(max(d.X(course.Place{Song: song, At: to}), a+1), d.Axis.Max.X)
	return image.Rect(a, r.Min.Y, z, r.Max.Y)
}

// song gives the part of a row that is a song's.
func (d *Layout) song(r image.Rectangle, i int) image.Rectangle { return d.in(r, i, 0, d.long(i)) }

// axis gives the part of a row that has a place in time, gutter what is left of it.
func (d *Layout) axis(r image.Rectangle) image.Rectangle {
	return image.Rect(d.Axis.Min.X, r.Min.Y, d.Axis.Max.X, r.Max.Y)
}

func (d *Layout) gutter(r image.Rectangle) image.Rectangle {
	return image.Rect(r.Min.X, r.Min.Y, d.Axis.Min.X, r.Max.Y)
}

// PlaceAt gives the place under a pixel; ok is false beside the line of time.
func (d *Layout) PlaceAt(p image.Point) (place course.Place, ok bool) {
	if len(d.starts) == 0 || p.X < d.Axis.Min.X || p.X >= d.Axis.Max.X || p.Y < d.v.Area.Min.Y || p.Y >= d.v.Area.Max.Y {
		return place, false
	}
	at := timeline.Time(int64(p.X-d.Axis.Min.X)*int64(d.end/timeline.Millisecond)/int64(d.Axis.Dx())) * timeline.Millisecond
	if d.v.Each {
		for _, r := range d.rows {
			if p.In(r.box) {
				return course.Place{Song: r.of, At: min(at, d.v.Course.Songs[r.of].Long)}, true
			}
		}
		return place, false
	}
	i := sort.Search(len(d.starts), func(i int) bool { return d.starts[i] > at }) - 1
	return course.Place{Song: i, At: at - d.starts[i]}, true
}

// SongTo gives the place to which a song that is dragged to a pixel would go, from the place where it was taken hold of.
func (d *Layout) SongTo(p image.Point, from int) int {
	to := 0
	for i := range d.starts {
		if i == from {
			continue
		}
		box := d.song(d.Heads, i)
		past := p.X > (box.Min.X+box.Max.X)/2
		if d.v.Each {
			box = d.rows[i].box
			past = p.Y > (box.Min.Y+box.Max.Y)/2
		}
		if past {
			to++
		}
	}
	return to
}

// Rooms gives the boxes of all rows, as far as they are seen, for those who look whether they keep to themselves.
func (d *Layout) Rooms() []image.Rectangle {
	var all []image.Rectangle
	for _, r := range d.rows {
		if box := r.box.Intersect(d.Rows); !box.Empty() {
			all = append(all, box)
		}
	}
	return all
}
