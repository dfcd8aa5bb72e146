package app

import (
	"cmp"
	"fmt"
	"image"
	"math"
	"slices"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// floorFoot shows the figures of what is chosen, to be changed, and the distances needed and planned.
func (a *App) floorFoot(r image.Rectangle) {
	u := a.ui
	row := u.Stack(r, 12)
	if at, ok := a.thingAt(a.floor.chosen); ok {
		wide := 290
		if r.Dx() < u.Px(760) {
			wide = 250
		}
		a.thingFields(row.Left(wide), at)
	}
	a.distanceTable(row.Rest())
}

// lengthSpec is how lengths are typed: metres, kept to a millimetre.
var lengthSpec = widget.NumberSpec{Units: []widget.Unit{{Name: "m", Num: 1000, Den: 1}, {Name: "cm", Num: 10, Den: 1}, {Name: "mm", Num: 1, Den: 1}, {Name: "ft", Num: 3048, Den: 10}}, Digits: 3,
	Min: -9999_000, Max: 9999_000, Step: 100, Fine: 10, Big: 1000}

// length draws a field of metres; changed says that it was set.
func (a *App) length(key string, r image.Rectangle, now float64, least float64) (to float64, changed bool) {
	spec := lengthSpec
	spec.Min = int64(math.Round(least * 1000))
	e := a.ui.Number(key, r, int64(math.Round(now*1000)), &spec)
	return float64(e.Value) / 1000, e.Changed
}

// thingFields draws the fields of the chosen thing.
func (a *App) thingFields(r image.Rectangle, at timeline.Point) {
	u, c := a.ui, a.floor.chosen
	u.PushOff(needEdit(a))
	defer u.PopOff()
	u.Push(string(c.Kind) + c.ID)
	defer u.Pop()
	k := u.Stack(r, 4)
	u.Label(k.Top(20), render.TypeStrong, render.InkText, upper(a.thingName(c)))
	name, set := a.thingText(c)
	line := u.Stack(k.Top(widget.RowHeight), 6)
	u.Label(line.Left(48), render.TypeLabel, render.InkSecondary, "Name")
	if e := u.TextField("name", line.Rest(), name, widget.TextSpec{}); e.Committed {
		a.do(set(e.Text))
	}
	move := func(to timeline.Point) { a.doAs("field "+string(c.Kind)+c.ID, a.moveThing(c, to)) }
	line = u.Stack(k.Top(widget.RowHeight), 6)
	u.Label(line.Left(48), render.TypeLabel, render.InkSecondary, a.placeWord(c))
	half := (line.Rest().Dx()*100/int(u.Scene().Scale) - 6) / 2
	if x, ok := a.length("x", line.Left(half), at.X, -9999); ok {
		move(timeline.Point{X: x, Y: at.Y})
	}
	u.Tip("Metres from the middle of the stage to the audience's right", "")
	if y, ok := a.length("y", line.Rest(), at.Y, -9999); ok {
		move(timeline.Point{X: at.X, Y: y})
	}
	u.Tip("Metres upstage from the front edge; the audience stands below 0", "")
	a.thingMore(&k)
}

// placeWord says which place of a thing its fields hold.
func (a *App) placeWord(c render.Chosen) string {
	switch c.Kind {
	case render.HitLineTo:
		return "To"
	case render.HitLine, render.HitLineFrom:
		return "From"
	}
	return "At"
}

// thingText gives the name of the chosen thing and the change that gives it another.
func (a *App) thingText(c render.Chosen) (name string, set func(string) change) {
	i, _ := strconv.Atoi(c.ID)
	v := a.venueOnFloor()
	switch c.Kind {
	case render.HitPosition:
		p := a.work.s.Show().Rig.Position(timeline.ID(c.ID))
		return p.Name, func(text string) change {
			return change{"rename position", []timeline.Edit{a.work.plan.Assign(timeline.Ref{Kind: "position", ID: p.ID}, timeline.Assignment{Field: "name", Op: timeline.AssignSet, Text: text})}}
		}
	case render.HitMark:
		return v.Performers[i].Name, func(text string) change {
			return a.venueChange("rename performer's mark", func(v *timeline.Venue) error { return setName(&v.Performers[i].Name, text) })
		}
	case render.HitZone:
		return v.Clear[i].Name, func(text string) change {
			return a.venueChange("rename clear zone", func(v *timeline.Venue) error { return setName(&v.Clear[i].Name, text) })
		}
	}
	return v.Audience[i].Name, func(text string) change {
		return a.venueChange("rename audience line", func(v *timeline.Venue) error { return setName(&v.Audience[i].Name, text) })
	}
}

// setName gives a thing of a venue another name.
func setName(name *string, text string) error {
	if text == "" {
		return fmt.Errorf("name is empty: a line, mark or zone needs one, since findings and sheets call it by that")
	}
	*name = text
	return nil
}

// thingMore draws what only some things have: height, radius, song, the other end of a line.
func (a *App) thingMore(k *widget.Stack) {
	u, c := a.ui, a.floor.chosen
	line := u.Stack(k.Top(widget.RowHeight), 6)
	i, _ := strconv.Atoi(c.ID)
	v := a.venueOnFloor()
	switch c.Kind {
	case render.HitPosition:
		p := a.work.s.Show().Rig.Position(timeline.ID(c.ID))
		u.Label(line.Left(48), render.TypeLabel, render.InkSecondary, "Height")
		if z, ok := a.length("z", line.Left(110), p.Z, -999); ok {
			q := *p
			q.Z = z
			a.doAs("field z"+c.ID, change{"put " + a.thingName(c) + " at a height of " + render.Metres(z), put("", &q)})
		}
		u.Tip("Metres above the stage floor", "")
	case render.HitMark:
		a.radius(&line, v.Performers[i].Radius, func(v *timeline.Venue, m float64) { v.Performers[i].Radius = m })
		a.markSong(line.Rest(), v.Performers[i], func(v *timeline.Venue, song timeline.ID) {
			v.Performers[i].Song, v.Performers[i].From, v.Performers[i].To = song, 0, 0
		})
	case render.HitZone:
		a.radius(&line, v.Clear[i].Radius, func(v *timeline.Venue, m float64) { v.Clear[i].Radius = m })
		a.markSong(line.Rest(), v.Clear[i], func(v *timeline.Venue, song timeline.ID) {
			v.Clear[i].Song, v.Clear[i].From, v.Clear[i].To = song, 0, 0
		})
	default:
		l := v.Audience[i]
		u.Label(line.Rest(), render.TypeSmall, render.InkSecondary, fmt.Sprintf("from %s to %s, %s long", placeText(l.From), placeText(l.To), render.Metres(math.Hypot(l.To.X-l.From.X, l.To.Y-l.From.Y))))
	}
}

func (a *App) radius(line *widget.Stack, now float64, set func(*timeline.Venue, float64)) {
	a.ui.Label(line.Left(48), render.TypeLabel, render.InkSecondary, "Radius")
	if m, ok := a.length("radius", line.Left(92), now, 0); ok {
		a.doAs("field radius", a.venueChange("set radius of "+a.thingName(a.floor.chosen)+" to "+render.Metres(m), func(v *timeline.Venue) error { set(v, m); return nil }))
	}
}

// markSong chooses the song in which a mark counts.
func (a *App) markSong(r image.Rectangle, m timeline.PlanMark, set func(*timeline.Venue, timeline.ID)) {
	ids, names := []timeline.ID{""}, []string{"all songs"}
	for _, s := range a.work.setlist() {
		ids, names = append(ids, s.ID), append(names, s.FullTitle())
	}
	if now, changed := a.ui.Dropdown("song", r, names, slices.Index(ids, m.Song)); changed {
		a.do(a.venueChange("let "+a.thingName(a.floor.chosen)+" count in "+names[now], func(v *timeline.Venue) error { set(v, ids[now]); return nil }))
	}
	a.ui.Tip("The song in which it counts", "")
}

// distancesShown gives the distances of the chosen thing, or of all that are too short, the shortest of its need first.
func (a *App) distancesShown() []*rule.Spacing {
	f := &a.floor
	var list []*rule.Spacing
	for i := range f.list {
		if c := &f.list[i]; a.concerns(c) {
			list = append(list, c)
		}
	}
	slices.SortStableFunc(list, func(x, y *rule.Spacing) int { return cmp.Compare(x.Away-x.Needs, y.Away-y.Needs) })
	return list
}

// concerns reports whether a distance belongs to the chosen thing; with nothing chosen, whether it is too short.
func (a *App) concerns(s *rule.Spacing) bool {
	c := a.floor.chosen
	switch c.Kind {
	case render.HitPosition:
		return string(s.Unit.Position.ID) == c.ID
	case render.HitMark:
		return s.Kind == rule.ToMark && strconv.Itoa(s.Place) == c.ID
	case render.HitZone:
		return s.Kind == rule.ToZone && strconv.Itoa(s.Place) == c.ID
	case render.HitLine, render.HitLineFrom, render.HitLineTo:
		return s.Kind == rule.ToLine && strconv.Itoa(s.Place) == c.ID
	}
	return s.Conflict()
}

// distanceTable lists needed and planned distances.
func (a *App) distanceTable(r image.Rectangle) {
	u, f := a.ui, &a.floor
	list := a.distancesShown()
	s := u.Scene()
	spec := widget.TableSpec{Rows: len(list), Empty: a.noDistance(),
		Columns: []widget.Column{{Title: "", Width: 26}, {Title: "Effect"}, {Title: "To"}, {Title: "Planned", Width: 76, Right: true}, {Title: "Needed", Width: 76, Right: true}, {Title: "What governs"}},
		Cell:    func(b []byte, row, col int) []byte { return append(b, distanceCell(list[row], col)...) },
		Draw: func(row, col int, r image.Rectangle) bool {
			if col == 0 && list[row].Conflict() {
				s.Badge(image.Pt(r.Min.X, (r.Min.Y+r.Max.Y-s.Px(render.BadgeSize))/2), render.SevError)
			}
			return col == 0
		}}
	if e := u.Table("distances", r, &f.rows, &spec); e.Used && e.Row < len(list) {
		a.chooseThing(render.Chosen{Kind: render.HitPosition, ID: string(list[e.Row].Unit.Position.ID)})
	}
}

func distanceCell(s *rule.Spacing, col int) string {
	switch col {
	case 1:
		return cmp.Or(s.Unit.Placed.Name, string(s.Unit.Placed.ID)) + ": " + s.Article.Name
	case 2:
		text := string(s.Kind) + " " + s.Name
		if s.Never {
			text += " (never at once)"
		}
		return text
	case 3:
		return render.Metres(s.Away)
	case 4:
		return render.Metres(s.Needs)
	case 5:
		return s.By
	}
	return ""
}

// noDistance says why no distance is listed.
func (a *App) noDistance() string {
	switch {
	case a.venueOnFloor() == nil:
		return "No venue is chosen, so there is nothing to keep a distance from: add one on the page Venues, with " + a.key("book-venues") + "."
	case a.floor.chosen.Kind == "":
		return fmt.Sprintf("No planned distance is less than the one needed, of %s that could be compared. Choose a position, line, mark or zone to see its distances.", counted(len(a.floor.list), "distance"))
	case a.floor.chosen.Kind == render.HitPosition:
		return "Nothing that is played from here asks for a distance, or the venue gives no line or mark to measure to."
	}
	return "Nothing that is played asks for a distance to it."
}
