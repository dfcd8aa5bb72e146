package stageplan

import (
	"cmp"
	"fmt"
	"image"
	"math"
	"slices"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
	"emberbeat/timeline/units"
)

// foot shows the figures of what is chosen, to be changed, and the distances needed and planned.
func (st *Stage) foot(r image.Rectangle) {
	u := st.h.UI()
	row := u.Stack(r, 12)
	if at, ok := st.At(st.Chosen); ok {
		wide := 290
		if r.Dx() < u.Px(760) {
			wide = 250
		}
		st.fields(row.Left(wide), at)
	}
	st.distanceTable(row.Rest())
}

// length draws a field of a length in metres; changed says that it was set.
func (st *Stage) length(key string, r image.Rectangle, now float64, least float64) (to float64, changed bool) {
	spec := page.Length(st.h.Show().Told())
	spec.Min = int64(math.Round(least * page.PerMetre))
	e := st.h.UI().Number(key, r, int64(math.Round(now*page.PerMetre)), &spec)
	return float64(e.Value) / page.PerMetre, e.Changed
}

// fields draws the fields of the chosen thing.
func (st *Stage) fields(r image.Rectangle, at timeline.Point) {
	u, c := st.h.UI(), st.Chosen
	u.PushOff(page.NeedEdit(st.h))
	defer u.PopOff()
	u.Push(string(c.Kind) + c.ID)
	defer u.Pop()
	k := u.Stack(r, 4)
	u.Label(k.Top(20), render.TypeStrong, render.InkText, page.Upper(st.name(c)))
	name, set := st.named(c)
	line := u.Stack(k.Top(widget.RowHeight), 6)
	u.Label(line.Left(48), render.TypeLabel, render.InkSecondary, "Name")
	if e := u.TextField("name", line.Rest(), name, widget.TextSpec{}); e.Committed {
		st.do(set(e.Text))
	}
	move := func(to timeline.Point) { st.doAs("field "+string(c.Kind)+c.ID, st.move(c, to)) }
	line = u.Stack(k.Top(widget.RowHeight), 6)
	u.Label(line.Left(48), render.TypeLabel, render.InkSecondary, st.placeWord(c))
	half := (line.Rest().Dx()*100/int(u.Scene().Scale) - 6) / 2
	if x, ok := st.length("x", line.Left(half), at.X, -9999); ok {
		move(timeline.Point{X: x, Y: at.Y})
	}
	u.Tip(st.lengths()+" from the middle of the stage to the audience's right", "")
	if y, ok := st.length("y", line.Rest(), at.Y, -9999); ok {
		move(timeline.Point{X: at.X, Y: y})
	}
	u.Tip(st.lengths()+" upstage from the front edge; the audience stands below 0", "")
	st.thingMore(&k)
}

// placeWord says which place of a thing its fields hold.
func (st *Stage) placeWord(c render.Chosen) string {
	switch c.Kind {
	case render.HitLineTo:
		return "To"
	case render.HitLine, render.HitLineFrom:
		return "From"
	}
	return "At"
}

// named gives the name of the chosen thing and the change that gives it another.
func (st *Stage) named(c render.Chosen) (name string, set func(string) change) {
	i, _ := strconv.Atoi(c.ID)
	v := st.venueShown()
	switch c.Kind {
	case render.HitPosition:
		p := st.h.Show().Rig.Position(timeline.ID(c.ID))
		return p.Name, func(text string) change {
			return change{"rename position", []timeline.Edit{st.h.Plan().Assign(timeline.Ref{Kind: "position", ID: p.ID}, timeline.Assignment{Field: "name", Op: timeline.AssignSet, Text: text})}}
		}
	case render.HitMark:
		return v.Performers[i].Name, func(text string) change {
			return st.venueChange("rename performer's mark", func(v *timeline.Venue) error { return setName(&v.Performers[i].Name, text) })
		}
	case render.HitZone:
		return v.Clear[i].Name, func(text string) change {
			return st.venueChange("rename clear zone", func(v *timeline.Venue) error { return setName(&v.Clear[i].Name, text) })
		}
	}
	return v.Audience[i].Name, func(text string) change {
		return st.venueChange("rename audience line", func(v *timeline.Venue) error { return setName(&v.Audience[i].Name, text) })
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
func (st *Stage) thingMore(k *widget.Stack) {
	u, c := st.h.UI(), st.Chosen
	line := u.Stack(k.Top(widget.RowHeight), 6)
	i, _ := strconv.Atoi(c.ID)
	v := st.venueShown()
	switch c.Kind {
	case render.HitPosition:
		p := st.h.Show().Rig.Position(timeline.ID(c.ID))
		u.Label(line.Left(48), render.TypeLabel, render.InkSecondary, "Height")
		if z, ok := st.length("z", line.Left(110), p.Z, -999); ok {
			q := *p
			q.Z = z
			st.doAs("field z"+c.ID, change{"put " + st.name(c) + " at a height of " + render.Length(st.told(), z), []timeline.Edit{page.Put("", &q)}})
		}
		u.Tip(st.lengths()+" above the stage floor", "")
	case render.HitMark:
		st.radius(&line, v.Performers[i].Radius, func(v *timeline.Venue, m float64) { v.Performers[i].Radius = m })
		st.markSong(line.Rest(), v.Performers[i], func(v *timeline.Venue, song timeline.ID) {
			v.Performers[i].Song, v.Performers[i].From, v.Performers[i].To = song, 0, 0
		})
	case render.HitZone:
		st.radius(&line, v.Clear[i].Radius, func(v *timeline.Venue, m float64) { v.Clear[i].Radius = m })
		st.markSong(line.Rest(), v.Clear[i], func(v *timeline.Venue, song timeline.ID) {
			v.Clear[i].Song, v.Clear[i].From, v.Clear[i].To = song, 0, 0
		})
	default:
		l := v.Audience[i]
		u.Label(line.Rest(), render.TypeSmall, render.InkSecondary, fmt.Sprintf("from %s to %s, %s long", st.placeText(l.From), st.placeText(l.To), render.Length(st.told(), math.Hypot(l.To.X-l.From.X, l.To.Y-l.From.Y))))
	}
}

func (st *Stage) radius(line *widget.Stack, now float64, set func(*timeline.Venue, float64)) {
	st.h.UI().Label(line.Left(48), render.TypeLabel, render.InkSecondary, "Radius")
	if m, ok := st.length("radius", line.Left(92), now, 0); ok {
		st.doAs("field radius", st.venueChange("set radius of "+st.name(st.Chosen)+" to "+render.Length(st.told(), m), func(v *timeline.Venue) error { set(v, m); return nil }))
	}
}

// markSong chooses the song in which a mark counts.
func (st *Stage) markSong(r image.Rectangle, m timeline.PlanMark, set func(*timeline.Venue, timeline.ID)) {
	ids, names := []timeline.ID{""}, []string{"all songs"}
	for _, s := range page.Setlist(st.h.Plan()) {
		ids, names = append(ids, s.ID), append(names, s.FullTitle())
	}
	if now, changed := st.h.UI().Dropdown("song", r, names, slices.Index(ids, m.Song)); changed {
		st.do(st.venueChange("let "+st.name(st.Chosen)+" count in "+names[now], func(v *timeline.Venue) error { set(v, ids[now]); return nil }))
	}
	st.h.UI().Tip("The song in which it counts", "")
}

// Distances gives the distances of the chosen thing, or of all that are too short, the shortest of its need first.
func (st *Stage) Distances() []*rule.Spacing {
	f := st
	var list []*rule.Spacing
	for i := range f.List {
		if c := &f.List[i]; st.concerns(c) {
			list = append(list, c)
		}
	}
	slices.SortStableFunc(list, func(x, y *rule.Spacing) int { return cmp.Compare(x.Away-x.Needs, y.Away-y.Needs) })
	return list
}

// concerns reports whether a distance belongs to the chosen thing; with nothing chosen, whether it is too short.
func (st *Stage) concerns(s *rule.Spacing) bool {
	c := st.Chosen
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
func (st *Stage) distanceTable(r image.Rectangle) {
	u, f := st.h.UI(), st
	list := st.Distances()
	s := u.Scene()
	spec := widget.TableSpec{Rows: len(list), Empty: st.NoDistance(),
		Columns: []widget.Column{{Title: "", Width: 26}, {Title: "Effect"}, {Title: "To"}, {Title: "Planned", Width: 76, Right: true}, {Title: "Needed", Width: 76, Right: true}, {Title: "What governs"}},
		Cell:    func(b []byte, row, col int) []byte { return append(b, cell(st.told(), list[row], col)...) },
		Draw: func(row, col int, r image.Rectangle) bool {
			if col == 0 && list[row].Conflict() {
				s.Badge(image.Pt(r.Min.X, (r.Min.Y+r.Max.Y-s.Px(render.BadgeSize))/2), render.SevError)
			}
			return col == 0
		}}
	if e := u.Table("distances", r, &f.rows, &spec); e.Used && e.Row < len(list) {
		st.Choose(render.Chosen{Kind: render.HitPosition, ID: string(list[e.Row].Unit.Position.ID)})
	}
}

func cell(told units.System, s *rule.Spacing, col int) string {
	switch col {
	case 1:
		return s.Unit.Name + ": " + s.Article.Name
	case 2:
		text := string(s.Kind) + " " + s.Name
		if s.Never {
			text += " (never at once)"
		}
		return text
	case 3:
		return told.Down("m", s.Away, 2)
	case 4:
		return told.Up("m", s.Needs, 2)
	case 5:
		return s.By
	}
	return ""
}

// NoDistance says why no distance is listed.
func (st *Stage) NoDistance() string {
	switch {
	case st.venueShown() == nil:
		return "No venue is chosen, so there is nothing to keep a distance from: add one on the page Venues, with " + st.h.Key("book-venues") + "."
	case st.Chosen.Kind == "":
		return fmt.Sprintf("No planned distance is less than the one needed, of %s that could be compared. Choose a position, line, mark or zone to see its distances.", timeline.Counted(len(st.List), "distance"))
	case st.Chosen.Kind == render.HitPosition:
		return "Nothing that is played from here asks for a distance, or the venue gives no line or mark to measure to."
	}
	return "Nothing that is played asks for a distance to it."
}
