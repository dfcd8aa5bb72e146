package render

import (
	"cmp"
	"fmt"
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
	data := LaneData{Lane: l, Name: d.Show.Called(l)}
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
	if deep(places) {
		key.place = fmt.Sprintf("Across the stage, %d places", len(places))
	}
	return key
}

// deep reports whether places stand so far behind each other that the names of the left and right one say nothing of the rest.
func deep(places []*timeline.StagePosition) bool {
	byDepth := func(a, b *timeline.StagePosition) int { return cmp.Compare(a.Y, b.Y) }
	const row = 2 // metres
	return slices.MaxFunc(places, byDepth).Y-slices.MinFunc(places, byDepth).Y > row
}

// arrange sorts lanes as they stand on screen and gives each first lane of a place its heading.
func arrange(lanes []LaneData) {
	gatherPlaces(lanes)
	slices.SortStableFunc(lanes, func(a, b LaneData) int {
		p, q := a.key, b.key
		return cmp.Or(cmp.Compare(p.rank, q.rank), cmp.Compare(p.y, q.y), cmp.Compare(p.x, q.x), cmp.Compare(p.place, q.place),
			cmp.Compare(p.role, q.role), cmp.Compare(p.name, q.name), cmp.Compare(p.id, q.id))
	})
	for i := range lanes {
		lanes[i].Where = cmp.Or(lanes[i].key.place, "lost")
		if i == 0 || lanes[i].key.place != lanes[i-1].key.place || lanes[i].key.rank != lanes[i-1].key.rank {
			lanes[i].Place = lanes[i].Where
		}
	}
}

// gatherPlaces moves lanes of one place name together: to the foremost, of those the leftmost.
func gatherPlaces(lanes []LaneData) {
	first := map[string]laneKey{}
	for i := range lanes {
		k := lanes[i].key
		f, known := first[k.place]
		if !known || cmp.Or(cmp.Compare(k.y, f.y), cmp.Compare(k.x, f.x)) < 0 {
			first[k.place] = k
		}
	}
	for i := range lanes {
		k := &lanes[i].key
		k.x, k.y = first[k.place].x, first[k.place].y
	}
}
