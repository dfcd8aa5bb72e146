package drawn

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// device puts a device with its addresses into the rig, or says why there is none.
func (t *taker) device(x *Thing, name string, pos timeline.ID, row *Row) (*timeline.Device, string) {
	typ, why := t.typeOf(x)
	if typ == nil {
		return nil, "no device: " + why
	}
	row.Type = typ.Name
	next := timeline.Device{Name: name, Type: typ.ID, Space: t.Space, Position: pos}
	blocks := len(typ.Blocks())
	switch {
	case x.NoAddr != "":
		row.Address = "not given: " + x.NoAddr
	case len(x.Starts) == 0:
		row.Address = "not given"
	case len(x.Starts) != blocks:
		row.Address = fmt.Sprintf("not taken: the drawing gives %s, and the type has %s", starts(x.Starts), timeline.Counted(blocks, "block"))
	default:
		next.Starts = x.Starts
		row.Address = starts(next.Starts)
	}
	have, n := calledSo(t.show.Rig.Devices, name, func(d *timeline.Device) string { return d.Name })
	switch {
	case n > 1:
		return nil, fmt.Sprintf("no device: the show has %d of that name", n)
	case n == 0:
		next.ID = t.newID("device")
		t.put(&next, "device new")
		return &next, "device is new"
	case have.Type != typ.ID:
		t.count["kept as it is"]++
		return have, fmt.Sprintf("device stays as it is: it is %s here", t.show.CalledBy(have.Type, "devicetype"))
	case next.Starts == nil:
		next.Starts = have.Starts
	}
	if slices.Equal(next.Starts, have.Starts) && next.Position == have.Position {
		return have, "device is there"
	}
	if !t.Replace {
		t.count["kept as it is"]++
		if !slices.Equal(next.Starts, have.Starts) {
			return have, fmt.Sprintf("device stays at %s, and differs", cmp.Or(starts(have.Starts), "no address"))
		}
		return have, "device stays at its position, and differs"
	}
	changed := *have
	changed.Starts, changed.Position = next.Starts, pos
	t.put(&changed, "device changed")
	return &changed, fmt.Sprintf("device has its address and position from the drawing; it had %s", cmp.Or(starts(have.Starts), "no address"))
}

// starts writes start addresses.
func starts(list []timeline.Patch) string {
	texts := make([]string, len(list))
	for i, p := range list {
		texts[i] = p.String()
	}
	return strings.Join(texts, ", ")
}

// typeOf finds the device type of a thing: the one that it means, ours of that name,
// or the one that comes with the drawing.
func (t *taker) typeOf(x *Thing) (*timeline.DeviceType, string) {
	if id := t.means(x, "devicetype"); id != "" {
		return t.show.Stock.DeviceType(id), "its device type is gone"
	}
	switch {
	case x.Type == nil:
		return nil, "the drawing names no device type"
	case x.Type.Device == nil:
		return nil, x.Type.Why
	}
	name := x.Type.Device.Name
	have, n := calledSo(t.show.Stock.DeviceTypes, name, func(d *timeline.DeviceType) string { return d.Name })
	switch {
	case n > 1:
		return nil, fmt.Sprintf("the show has %d device types called %q", n, name)
	case n == 1 && !slices.Equal(have.Blocks(), x.Type.Device.Blocks()):
		return nil, fmt.Sprintf("device type %q has other slots here than in the drawing", name)
	case n == 1:
		return have, ""
	}
	key := strings.ToLower(name)
	if made := t.types[key]; made != nil {
		if !slices.Equal(made.Slots, x.Type.Device.Slots) {
			return nil, fmt.Sprintf("the drawing has two device types called %q", name)
		}
		return made, ""
	}
	made := *x.Type.Device
	made.ID = t.newID("devicetype")
	t.types[key] = &made
	t.put(&made, "device type new")
	t.open = true
	for _, note := range x.Type.Notes {
		t.plan.Lines = append(t.plan.Lines, fmt.Sprintf("device type %q: %s", name, strings.TrimSuffix(note, ".")))
	}
	return &made, ""
}

// wire has a device drive a placed effect where there is only one way.
func (t *taker) wire(placed timeline.ID, v *timeline.Device) []string {
	if placed == "" || v == nil {
		return nil
	}
	if slices.ContainsFunc(t.show.Rig.Wires, func(w *timeline.Wire) bool { return w.Placed == placed }) {
		return []string{"its wires stay"}
	}
	typ := t.show.Stock.DeviceType(v.Type)
	for _, made := range t.types {
		if made.ID == v.Type {
			typ = made
		}
	}
	if typ == nil || slices.ContainsFunc(typ.Slots, func(s timeline.Slot) bool { return s.Head > 1 }) { // even where nobody knows yet which of them fire
		return []string{"not wired: its device has several heads"}
	}
	if slices.ContainsFunc(t.show.Rig.Wires, func(w *timeline.Wire) bool { return w.Driver == v.ID }) {
		return []string{"not wired: its device drives another effect"}
	}
	t.put(&timeline.Wire{Base: timeline.Base{ID: t.newID("wire")}, Placed: placed, Driver: v.ID, Output: 1}, "wire new")
	return []string{"wired"}
}

// group gathers placed effects that are drawn as one.
func (t *taker) group(name string, members []timeline.ID) {
	have, n := calledSo(t.show.Rig.Groups, name, func(g *timeline.Group) string { return g.Name })
	row := Row{Name: name, Drawn: "group"}
	switch {
	case name == "" || len(members) < 2 && n == 0:
		return // nothing that a group is for
	case n > 1:
		row.Happens = fmt.Sprintf("left out: the show has %d groups of that name", n)
		t.count["left out"]++
	case n == 0:
		t.put(&timeline.Group{Base: timeline.Base{ID: t.newID("group")}, Name: name, Members: members}, "group new")
		row.Happens = fmt.Sprintf("group of %s is new", timeline.Counted(len(members), "effect"))
	default:
		next := *have
		next.Members = slices.Clone(have.Members)
		for _, m := range members {
			if !slices.Contains(next.Members, m) {
				next.Members = append(next.Members, m)
			}
		}
		more := len(next.Members) - len(have.Members)
		switch {
		case more == 0:
			row.Happens = "group is there"
		case !t.Replace:
			row.Happens = fmt.Sprintf("group stays as it is, without %s", timeline.Counted(more, "effect"))
			t.count["kept as it is"]++
		default:
			t.put(&next, "group changed")
			row.Happens = fmt.Sprintf("group gets %s more", timeline.Counted(more, "effect"))
		}
	}
	t.plan.Rows = append(t.plan.Rows, row)
}

// counted are the words under which things are counted, in their order.
var counted = []string{"position new", "position moved", "device type new", "device new", "device changed", "effect new", "effect changed", "wire new", "group new", "group changed"}

// lines says what all of it comes to.
func (t *taker) lines(out *tally) {
	var parts []string
	for _, what := range counted {
		if n := t.count[what]; n > 0 {
			noun, did := what[:strings.LastIndex(what, " ")], what[strings.LastIndex(what, " ")+1:]
			parts = append(parts, timeline.Counted(n, noun)+" "+did)
		}
	}
	gone := t.count["left out"]
	for _, n := range out.count {
		gone += n
	}
	say := func(line string) { t.plan.Lines = append(t.plan.Lines, line) }
	say(cmp.Or(strings.Join(parts, ", "), "nothing comes into the show"))
	if gone > 0 {
		say(timeline.Counted(gone, "thing") + " of the drawing left out")
	}
	if n := t.count["kept as it is"]; n > 0 {
		say("left as it is in the show, though the drawing says otherwise: " + timeline.Counted(n, "record") + "; ask for the same names to be replaced, and it goes where the drawing says")
	}
	if t.open {
		say("a drawing cannot know which slot fires and which arms: all slots of new device types are open until the show says it")
	}
	if t.noAim > 0 {
		say(timeline.Counted(t.noAim, "effect") + " without a direction in the drawing: it is not given, and new ones are noted so")
	}
	for _, c := range t.clashes() {
		say(c)
	}
	t.plan.Lines = append(t.plan.Lines, t.Drawing.Notes...)
}

// clashes says which addresses are taken twice once everything is taken over.
func (t *taker) clashes() []string {
	if t.plan.Empty() {
		return nil
	}
	next, err := t.show.Edit(t.plan.Edit())
	if err != nil {
		return nil // the edit itself says it
	}
	isNew := map[timeline.ID]bool{}
	for _, r := range t.plan.put {
		if d, ok := r.(*timeline.Device); ok {
			isNew[d.ID] = true
		}
	}
	var lines []string
	for _, c := range timeline.Clashes(timeline.Claims(next)) {
		if !c.Declared && (isNew[c.A.Device.ID] || isNew[c.B.Device.ID]) {
			lines = append(lines, fmt.Sprintf("%s and %s share slots %d to %d of universe %d", next.Called(c.A.Device), next.Called(c.B.Device), c.From, c.To, c.A.Run.Start.Universe))
		}
	}
	return lines
}
