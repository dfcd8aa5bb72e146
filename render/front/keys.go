package front

import (
	"emberbeat/render"
	"emberbeat/timeline"
)

// Keys is the course of a song's stage as key points: what another program needs to
// show what Draw draws, knowing neither families nor how anything rises. Places are
// device pixels of the picture that was drawn with it.
type Keys struct {
	Floor  float64 // y of the floor
	Looks  []KeyLook
	Spells []KeySpell // by start
}

// KeyLook is what one article looks like at one unit. Along it are two axes: (AX, AY)
// is a step away from the unit, (-AY, AX) one across. Half its width is Root at the
// unit and Root + Grow at its full length.
type KeyLook struct {
	Shape      KeyShape
	Ink        render.Ink
	X, Y       float64
	AX, AY     float64
	Long       float64
	Root, Grow float64
	Burst      float64 // radius of what goes off all around; 0 = nothing does
	Rises      bool    // of a burst: it goes off at the end of its length
	Metre      float64 // device pixels a metre
}

// KeyShape is the outline of a look.
type KeyShape string

// The shapes, as body draws them.
const (
	LineShape    KeyShape = "line"
	BurstShape   KeyShape = "burst"
	FlameShape   KeyShape = "flame"
	JetShape     KeyShape = "jet"
	SparkShape   KeyShape = "sparks"
	PaperShape   KeyShape = "paper"
	CurtainShape KeyShape = "curtain"
	CloudShape   KeyShape = "cloud"
	StemShape    KeyShape = "stem"
	EdgeShape    KeyShape = "edge"
)

// KeySpell is a time in which something is seen at one unit without a break, see
// spell.
type KeySpell struct {
	From, To timeline.Time
	Still    bool // it stands still at its full height, in stripes, because it would flash
	Lines    bool // the line of its reach is drawn in place of bodies, because too much of the picture would change
	Hits     []KeyHit
}

// KeyHit is one hit: from Hit it rises evenly to its full height at Full, stands until
// Closed and falls until Gone.
type KeyHit struct {
	Look                    int
	Hit, Full, Closed, Gone timeline.Time
}

// Height gives how much of the full height stands at a time, as its course does.
func (k *KeyHit) Height(at timeline.Time) float64 {
	switch {
	case at < k.Hit || at >= k.Gone:
		return 0
	case at < k.Full:
		return float64(at-k.Hit) / float64(k.Full-k.Hit)
	case at < k.Closed:
		return 1
	}
	return float64(k.Gone-at) / float64(k.Gone-k.Closed)
}

// longBefore is a moment at which nothing of a song stands or comes yet.
const longBefore = -60 * timeline.Minute

// DrawKeys adds the picture of a stage on which nothing stands to a scene, and gives
// all that comes to stand on it. A view from above has none.
func (d *Drawer) DrawKeys(s *render.Scene, th *render.Theme, v *View) *Keys {
	empty := *v
	empty.Above, empty.At = false, longBefore
	d.Draw(s, th, &empty)
	k := &Keys{Floor: d.base}
	looks := map[lookKey]int{}
	for i := range d.st.spells {
		sp := &d.st.spells[i]
		out := KeySpell{From: sp.from, To: sp.to, Still: sp.striped, Lines: d.lines[i]}
		for _, n := range d.st.inSpell[sp.first : sp.first+sp.n] {
			h := &d.st.hits[n]
			if !v.sees(h.command) {
				continue
			}
			key := lookKey{h.command.Unit, h.command.Article}
			at, known := looks[key]
			if !known {
				at = len(k.Looks)
				looks[key] = at
				k.Looks = append(k.Looks, d.keyLook(&d.st.units[h.unit], h.look))
			}
			c := &h.course
			out.Hits = append(out.Hits, KeyHit{at, c.Hit, c.Full(), c.Closed(), c.Gone()})
		}
		if len(out.Hits) > 0 {
			k.Spells = append(k.Spells, out)
		}
	}
	return k
}

func (d *Drawer) keyLook(u *unit, l *look) KeyLook {
	x := d.axisOf(u, l)
	k := KeyLook{Shape: shapeOf(l), Ink: l.ink, X: float64(x.from.X), Y: float64(x.from.Y), AX: float64(x.ax), AY: float64(x.ay), Long: float64(x.long),
		Root: float64(x.half(0)), Grow: float64(x.half(1) - x.half(0)), Metre: d.ppm}
	if k.Shape == BurstShape {
		k.Burst, k.Rises = l.burst*d.ppm, l.burst < l.length
	}
	return k
}

// shapeOf gives the shape that body draws.
func shapeOf(l *look) KeyShape {
	switch {
	case l.line:
		return LineShape
	case l.burst > 0:
		return BurstShape
	case l.outline == timeline.ColumnOutline:
		return FlameShape
	case l.outline == timeline.JetOutline:
		return JetShape
	case l.outline == timeline.FanOutline:
		return SparkShape
	case l.outline == timeline.FallingOutline && l.class == timeline.Paper:
		return PaperShape
	case l.outline == timeline.FallingOutline:
		return CurtainShape
	case l.outline == timeline.CloudOutline:
		return CloudShape
	case l.outline == timeline.StemOutline:
		return StemShape
	}
	return EdgeShape
}
