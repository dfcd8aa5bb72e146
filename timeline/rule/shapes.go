package rule

import (
	"emberbeat/timeline"
	"emberbeat/timeline/figure"
	"emberbeat/timeline/reach"
)

// Shapes gives where the effects of a plan are, as the rules take it, for those
// who draw them. It belongs to one goroutine.
type Shapes struct {
	spaces *spaces
	paper  settings
}

// ShapesOf gives the shapes of a plan's effects.
func ShapesOf(p *timeline.Plan) *Shapes {
	return &Shapes{newSpaces(p), settingsOf(ruleOf(paperName), p.Show.Setting(paperName), p.Show.Told())}
}

// Label gives the shape of an article at a unit up to the height that its article
// gives, without a venue's tolerance; nil where the unit stands nowhere.
func (s *Shapes) Label(u *timeline.Unit, a *timeline.Article) *reach.Shape {
	if u.Position == nil {
		return nil
	}
	m := s.spaces.assumed(u, a, timeline.ToPerformers)
	m.Tolerance = 0
	return m.Of(u, a)
}

// FromAxis gives how far the rim of a mark is from the axis, the path or the line
// of an article at a unit, in m, of an axis in space; unknown where it stands
// upright or where it cannot be computed.
func (s *Shapes) FromAxis(u *timeline.Unit, a *timeline.Article, m timeline.PlanMark) float64 {
	x := s.spaces.of(u, a, timeline.ToPerformers)
	if x == nil || x.Track == nil {
		return figure.Unknown()
	}
	return x.model.ToMark(x.Shape, m).Space
}

// Floats gives how long what an article at a unit shoots is in the air; 0 where
// that is not known.
func (s *Shapes) Floats(u *timeline.Unit, a *timeline.Article) timeline.Time {
	x := s.spaces.of(u, a, timeline.ToPerformers)
	if x == nil || x.Envelope == nil {
		return a.Hang
	}
	return floats(x.Shape, s.paper.at(nil, u, a))
}
