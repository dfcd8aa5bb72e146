package render

import (
	"image"
	"strconv"

	"emberbeat/timeline"
)

// Kinds of areas in a song's view. Their ids are those of records, where there is one.
const (
	HitTitle        HitKind = "title"
	HitStrip        HitKind = "strip"         // the whole song
	HitShown        HitKind = "shown"         // the part of the strip that is shown
	HitSection      HitKind = "section"       // id of the section
	HitSectionStart HitKind = "section-start" // id of the section
	HitSectionEnd   HitKind = "section-end"   // id of the section
	HitMarker       HitKind = "marker"        // id of the marker
	HitNote         HitKind = "note"          // id of the note of the crew
	HitTimecode     HitKind = "timecode"      // ruler
	HitBars         HitKind = "bars"          // ruler
	HitWave         HitKind = "wave"          // waveform and energy
	HitLaneHead     HitKind = "lane-head"     // id of the lane
	HitLane         HitKind = "lane"          // id of the lane
	HitCue          HitKind = "cue"           // id of the cue
	HitCueEnd       HitKind = "cue-end"       // id of the cue whose open time ends here
	HitCues         HitKind = "cues"          // several cues in a ribbon; id of the first
	HitDensity      HitKind = "density"       // strip
	HitFinding      HitKind = "finding"       // index in Marks.List as a decimal number
	HitFindings     HitKind = "findings"      // the line or list
)

// SongDrawer adds song views to scenes. It keeps its working memory, so that drawing the next frame makes no garbage. It serves one
// goroutine.
type SongDrawer struct {
	SongLayout
	Counts image.Rectangle // in the transport of a page: how many findings there are

	s  *Scene
	th *Theme
	v  *SongView
	d  *SongData

	columns []Column
	text    []byte
	ids     []string // decimal numbers, made once
}

// Draw adds the view to the scene: everything but what moves while the song plays, which DrawCursors adds. It gives the layout it used.
func (p *SongDrawer) Draw(s *Scene, th *Theme, v *SongView) *SongLayout {
	p.begin(s, th, v)
	s.PushClip(v.Area)
	s.Rect(v.Area, InkPanel)
	if v.Fit {
		p.head()
	} else {
		p.title()
		p.markerRow()
	}
	p.strip()
	if v.Beats != nil {
		p.beats()
		p.foot()
		s.PopClip()
		return &p.SongLayout
	}
	p.sectionRow()
	p.timecodeRow()
	p.barRow()
	p.sound()
	if v.Fit {
		p.markerRow() // over the waveform
	}
	p.lanes()
	p.density()
	p.findings()
	p.legend()
	p.foot()
	s.PopClip()
	return &p.SongLayout
}

// begin takes up a view.
func (p *SongDrawer) begin(s *Scene, th *Theme, v *SongView) {
	p.s, p.th, p.v, p.d = s, th, v, v.Data
	p.SongLayout = Layout(v, s.Scale)
}

// px gives logical pixels in device pixels.
func (p *SongDrawer) px(n int) int { return p.s.Px(n) }

// caption sets a row's name in its gutter.
func (p *SongDrawer) caption(row image.Rectangle, text string) {
	box := p.gutter(row)
	box.Min.X += p.px(12)
	box.Max.X -= p.px(8)
	p.s.TextCut(box, TypeSmall, InkFaint, text)
}

// rule draws a line under a row.
func (p *SongDrawer) rule(row image.Rectangle, ink Ink) {
	p.s.Rect(image.Rect(row.Min.X, row.Max.Y-p.px(1), row.Max.X, row.Max.Y), ink)
}

// upright draws a line of a width across a row.
func (p *SongDrawer) upright(x int, row image.Rectangle, width int, ink Ink) {
	p.s.Rect(image.Rect(x, row.Min.Y, x+width, row.Max.Y), ink)
}

func (p *SongDrawer) title() {
	row := p.Title
	p.s.Ground(HitTitle, string(p.d.Plan.Song.ID), row)
	box := inset(row, p.px(12), 0)
	left := p.s.TextCut(box, TypeTitle, InkText, p.d.Plan.Song.FullTitle())
	right := p.counts(box)
	facts := image.Rect(left+p.px(16), box.Min.Y, right-p.px(20), box.Max.Y)
	if head := p.d.Show.Head; head.Title != "" {
		facts.Min.X = p.s.TextCut(facts, TypeLabel, InkSecondary, head.Title) + p.px(16)
	}
	p.s.TextIn(facts, Right, TypeLabel, InkText, p.d.facts)
	p.rule(row, InkBar)
}

// countsRoom is the logical room right of the counters from which on the findings are counted there: below, the buttons need it.
const countsRoom = 220

// head draws what stands in the transport of a page and does not move: the number of findings at its right.
func (p *SongDrawer) head() {
	row := p.Transport
	p.Counts = row
	p.Counts.Max.Y = max(row.Max.Y-p.px(footLow), row.Min.Y)
	if p.Counts.Min.X = p.Counts.Max.X; row.Dx() >= p.px(footLeft+countsRoom) {
		p.Counts.Min.X = row.Min.X
		p.Counts.Min.X = p.counts(inset(p.Counts, p.px(12), 0)) - p.px(8)
		p.s.Ground(HitFindings, "", p.Counts)
	}
	p.rule(row, InkBar)
}

// counts sets the number of findings of each severity at the right of a box and gives the x where they begin.
func (p *SongDrawer) counts(box image.Rectangle) int {
	x := box.Max.X
	if p.v.Marks == nil {
		return x
	}
	for v := SevNote; ; v-- {
		if n := p.v.Marks.Count[v]; n > 0 {
			p.text = strconv.AppendInt(p.text[:0], int64(n), 10)
			x -= p.s.Face(TypeStrong).MeasureBytes(p.text)
			p.s.BytesIn(image.Rect(x, box.Min.Y, box.Max.X, box.Max.Y), Left, TypeStrong, InkText, p.text)
			x -= p.px(BadgeSize + 5)
			p.badge(x, box, v)
			x -= p.px(12)
		}
		if v == SevError {
			return x
		}
	}
}

// badge draws a badge at x in the middle of a row.
func (p *SongDrawer) badge(x int, row image.Rectangle, v Severity) {
	p.s.Badge(image.Pt(x, (row.Min.Y+row.Max.Y-p.px(BadgeSize))/2), v)
}

// inset makes a rectangle smaller by dx on the left and right and dy above and below.
func inset(r image.Rectangle, dx, dy int) image.Rectangle {
	return image.Rect(r.Min.X+dx, r.Min.Y+dy, max(r.Max.X-dx, r.Min.X+dx), max(r.Max.Y-dy, r.Min.Y+dy))
}

// id gives a decimal number as an id, the same string each time.
func (p *SongDrawer) id(n int) string {
	for len(p.ids) <= n {
		p.ids = append(p.ids, strconv.Itoa(len(p.ids)))
	}
	return p.ids[n]
}

// stretch gives the columns of a row between two song times, at least one.
func (p *SongDrawer) stretch(row image.Rectangle, from, to timeline.Time) image.Rectangle {
	x := p.X(from)
	return image.Rect(x, row.Min.Y, max(p.X(to), x+1), row.Max.Y)
}

func (p *SongDrawer) foot() {
	if p.Foot.Empty() {
		return
	}
	box := inset(p.Foot, p.px(12), 0)
	if p.v.Fit {
		box.Min.X = p.Foot.Min.X
	}
	p.s.TextCut(box, TypeSmall, InkFaint, p.v.Foot)
}
