package render

import (
	"cmp"
	"math"
	"slices"

	"emberbeat/timeline"
)

// laneKey says where a lane stands on screen: by place on stage from front to back and, as seen from front of house, from left to
// right; at one place effects first, then windows, then by name.
type laneKey struct {
	rank  int // placed, without a place, gone
	y, x  int // decimetres
	place string
	role  int
	name  string
	id    timeline.ID
}

const (
	placelessRank = 1
	goneRank      = 2
)

// lane prepares a lane without cues.
func (d *SongData) lane(l *timeline.Lane) LaneData {
	data := LaneData{Lane: l, Name: cmp.Or(l.Name, string(l.Target), string(l.ID))}
	article := d.Show.Stock.Article(cmp.Or(l.Article, d.articleAt(l.Target)))
	data.Look, data.Plain = lookOf(article), l.Window() || article == nil
	units, _ := d.Plan.Units.Target(l.Target)
	data.key = placeOf(units)
	data.key.role = max(0, slices.Index([]timeline.SlotRole{timeline.EffectSlot, timeline.ArmSlot, timeline.ConditionSlot, timeline.WarmUpSlot}, l.Role))
	data.key.name, data.key.id = data.Name, l.ID
	return data
}

// placeOf gives the middle of the places where units stand, and its name.
func placeOf(units []*timeline.Unit) laneKey {
	var places []*timeline.StagePosition
	for _, u := range units {
		if u.Position != nil && !slices.Contains(places, u.Position) {
			places = append(places, u.Position)
		}
	}
	if len(places) == 0 {
		return laneKey{rank: placelessRank, place: "no place on stage"}
	}
	slices.SortFunc(places, func(a, b *timeline.StagePosition) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.ID, b.ID)) })
	var x, y float64
	for _, p := range places {
		x, y = x+p.X, y+p.Y
	}
	n := float64(len(places)) / 10
	key := laneKey{x: int(math.Round(x / n)), y: int(math.Round(y / n)), place: places[0].Name}
	if last := places[len(places)-1]; len(places) > 1 {
		key.place += " – " + last.Name
	}
	return key
}

// arrange sorts lanes as they stand on screen and gives each first lane of a place its heading.
func arrange(lanes []LaneData) {
	slices.SortStableFunc(lanes, func(a, b LaneData) int {
		p, q := a.key, b.key
		return cmp.Or(cmp.Compare(p.rank, q.rank), cmp.Compare(p.y, q.y), cmp.Compare(p.x, q.x), cmp.Compare(p.place, q.place),
			cmp.Compare(p.role, q.role), cmp.Compare(p.name, q.name), cmp.Compare(p.id, q.id))
	})
	for i := range lanes {
		if i == 0 || lanes[i].key.place != lanes[i-1].key.place || lanes[i].key.rank != lanes[i-1].key.rank {
			lanes[i].Place = cmp.Or(lanes[i].key.place, "lost")
		}
	}
}
