package operation

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// slotOperations say what the slots of a device type are, and what a show makes
// of those of its devices.
func slotOperations() []*Operation {
	return []*Operation{addSlots(), changeSlot(), removeSlots(), ownSlot()}
}

// SlotPlace is where a slot stands in its type, written block.number.
type SlotPlace struct{ Block, Number int }

func (p SlotPlace) String() string { return fmt.Sprintf("%d.%d", p.Block, p.Number) }

func parseSlotPlace(text string) (SlotPlace, error) {
	b, n, ok := strings.Cut(text, ".")
	block, errB := strconv.Atoi(b)
	number, errN := strconv.Atoi(n)
	if !ok || errB != nil || errN != nil {
		return SlotPlace{}, errors.New("is no slot; write block.number, such as 1.3")
	}
	return SlotPlace{block, number}, nil
}

// placeOf gives where a slot stands.
func placeOf(s timeline.Slot) SlotPlace { return SlotPlace{s.Block, s.Number} }

// slotPlace is the argument of where a slot stands; none is the zero place.
func slotPlace[A any](at func(*A) *SlotPlace) Argument {
	f := field.Parsed("slot", "the slot, block.number", at, func(p SlotPlace) string {
		if p == (SlotPlace{}) {
			return ""
		}
		return p.String()
	}, parseSlotPlace)
	return Argument{Field: f, Word: "SLOT"}
}

// SlotWords are what is given of a slot of a device type; what is not given
// stays, or is what a new slot begins with.
type SlotWords struct {
	Block, Number, From, To, Off, Head *int
	Role                               *timeline.SlotRole
	Wide                               *bool
	Name                               *string
}

// slotWords are the arguments of a slot of a device type. Where it stands is
// asked for on the command line only where it can move.
func slotWords[A any](moves bool, at func(*A) *SlotWords) []Argument {
	number := func(name, label, help string, in func(*SlotWords) **int) Argument {
		return Argument{Field: optional(name, help, func(a *A) **int { return in(at(a)) }, strconv.Itoa, wholeCount), Label: label}
	}
	block := number("block", "Block", "which block of addresses, from 1; each has a start address of its own", func(w *SlotWords) **int { return &w.Block })
	place := number("number", "Number", "place in the block, from 1 to 512", func(w *SlotWords) **int { return &w.Number })
	block.NoVerb, place.NoVerb = !moves, !moves
	role := optional("role", "what the slot does: "+field.Listed(timeline.SlotRoles()), func(a *A) **timeline.SlotRole { return &at(a).Role },
		func(r timeline.SlotRole) string { return string(r) }, func(s string) (timeline.SlotRole, error) {
			if r := timeline.SlotRole(s); slices.Contains(timeline.SlotRoles(), r) {
				return r, nil
			}
			return "", fmt.Errorf("is not one of: %s", field.Listed(timeline.SlotRoles()))
		})
	for _, r := range timeline.SlotRoles() {
		role.Choices = append(role.Choices, string(r))
	}
	wide := optional("wide", "takes two addresses, coarse then fine, and values up to 65535", func(a *A) **bool { return &at(a).Wide }, strconv.FormatBool, strconv.ParseBool)
	wide.Type = field.FlagType
	return []Argument{
		block, place, {Field: role, Label: "Role"},
		number("from", "On from", "lowest value in which the role is on", func(w *SlotWords) **int { return &w.From }),
		number("to", "On to", "highest value in which the role is on", func(w *SlotWords) **int { return &w.To }),
		number("off", "Off", "value that is off; it must lie outside the window", func(w *SlotWords) **int { return &w.Off }),
		{Field: wide, Label: "Wide", Hint: "16 bit: two addresses"},
		number("head", "Head", "which effect of the device it serves, from 1; 0 = all", func(w *SlotWords) **int { return &w.Head }),
		{Field: maybeText("name", "what the crew calls it", func(a *A) **string { return &at(a).Name }), Label: "Name", Empty: true},
	}
}

// of gives a slot with what is given.
func (w *SlotWords) of(s timeline.Slot) (timeline.Slot, error) {
	if w.Wide != nil {
		s.Wide = *w.Wide
	}
	top := 255
	if s.Wide {
		top = 65535
	}
	for _, v := range []struct {
		name     string
		given    *int
		from, to int
		into     *int
	}{{"block", w.Block, 1, 64, &s.Block}, {"number", w.Number, 1, 512, &s.Number}, {"from", w.From, 0, top, &s.From}, {"to", w.To, 0, top, &s.To}, {"off", w.Off, 0, top, &s.Off}, {"head", w.Head, 0, 512, &s.Head}} {
		if v.given != nil {
			*v.into = *v.given
		}
		if *v.into < v.from || *v.into > v.to {
			return s, &timeline.ValueError{Field: v.name, Value: strconv.Itoa(*v.into), Want: fmt.Sprintf("must be a whole number from %d to %d", v.from, v.to)}
		}
	}
	if w.Role != nil {
		s.Role = *w.Role
	}
	if w.Name != nil {
		s.Name = *w.Name
	}
	if s.From > s.To {
		return s, &timeline.ValueError{Field: "to", Value: strconv.Itoa(s.To), Want: fmt.Sprintf("must not be below %d, where the window begins", s.From)}
	}
	if _, err := timeline.ParseSlot(s.String()); err != nil {
		return s, &timeline.ValueError{Field: "off", Value: strconv.Itoa(s.Off), Want: err.Error()}
	}
	return s, nil
}

// typeOfSlots is the argument of the device type.
func typeOfSlots[A any](at func(*A) *timeline.ID) Argument {
	return Argument{Field: id("type", "the device type, by name or id", at, "devicetype"), Word: "TYPE", NoForm: true}
}

// slotType finds the device type whose slots are changed.
func slotType(at At, id timeline.ID) (*timeline.DeviceType, error) {
	if t := at.Show.Stock.DeviceType(id); t != nil {
		return t, nil
	}
	return nil, errors.New("no device type is chosen")
}

// puts gives the edit that leaves a device type with other slots, and tells all
// of them. Slots that stand on each other are refused.
func puts(t *timeline.DeviceType, list []timeline.Slot, fresh map[timeline.Slot]bool) (timeline.Edit, Outcome, error) {
	next := *t
	next.Slots = slices.Clone(list)
	slices.SortStableFunc(next.Slots, func(x, y timeline.Slot) int {
		return cmp.Or(cmp.Compare(x.Block, y.Block), cmp.Compare(x.Number, y.Number))
	})
	out := Outcome{Columns: columns("Slot", "Role", "On", "#Head", "")}
	var err error
	for i, s := range next.Slots {
		state := ""
		if fresh[s] {
			state = "new"
		}
		out.Rows = append(out.Rows, []string{strings.TrimSpace(placeOf(s).String() + "  " + s.Name), string(s.Role), fmt.Sprintf("%d..%d", s.From, s.To), strconv.Itoa(s.Head), state})
		if i == 0 || err != nil {
			continue
		}
		if before := next.Slots[i-1]; before.Block == s.Block && before.Number+before.Width() > s.Number {
			err = &timeline.ValueError{Field: "number", Value: strconv.Itoa(s.Number), Want: fmt.Sprintf("is taken in block %d by %s; choose a number that no slot has", s.Block, before)}
		}
	}
	for i, n := range next.Blocks() {
		out.Lines = append(out.Lines, fmt.Sprintf("block %d takes %s from its start address on", i+1, timeline.Counted(n, "slot")))
	}
	return func(d *timeline.Draft) error {
		d.Put("", &next)
		return nil
	}, out, err
}

// slotChange completes an operation that gives a device type other slots.
func slotChange[A any](o Operation, do func(At, *A) (timeline.Edit, Outcome, error), say func(*timeline.Show, *A) string) *Operation {
	o.Verb = "slot"
	return tells(does(o,
		func(at At, a *A) (timeline.Edit, error) {
			edit, _, err := do(at, a)
			return edit, err
		}, say),
		func(at At, a *A) (Outcome, error) {
			_, out, err := do(at, a)
			return out, err
		})
}

// NewSlots are the arguments of slots that are added to a device type: one, or a
// run of them, each one number further.
type NewSlots struct {
	Type  timeline.ID
	First SlotPlace // none is the first free place of block 1
	SlotWords
	Count int
	Heads bool // each serves the next head
}

func (n *NewSlots) start() { n.Count = 1 }

// NextSlot is what a slot begins with that is added to a device type: the first
// place after the others of block 1.
func NextSlot(t *timeline.DeviceType) timeline.Slot {
	s := timeline.Slot{Block: 1, Number: 1, Role: timeline.EffectSlot, From: 128, To: 255}
	if sizes := t.Blocks(); len(sizes) > 0 {
		s.Number = sizes[0] + 1
	}
	return s
}

func addSlots() *Operation {
	type A = NewSlots
	first := slotPlace(func(n *A) *SlotPlace { return &n.First })
	first.Optional, first.NoForm = true, true
	count := field.Parsed("count", "a run of slots, each one number further", func(n *A) *int { return &n.Count }, strconv.Itoa, wholeCount)
	count.Type = field.WholeType
	args := append([]Argument{typeOfSlots(func(n *A) *timeline.ID { return &n.Type }), first}, slotWords(false, func(n *A) *SlotWords { return &n.SlotWords })...)
	args = append(args, Argument{Field: count, Label: "How many"},
		Argument{Field: field.Flag("heads", "the first slot serves the head given, the second the next", func(n *A) *bool { return &n.Heads }), Label: "Heads", Hint: "each for the next head"})
	return slotChange(Operation{Name: "add", Menu: "Add slots…", Title: "Add slots", Button: "Add",
		Tip:  "adds slots to the device type shown",
		Help: "--count slots, the first at SLOT, or after the last\nof block 1; with --heads each serves the next head",
		Args: args},
		func(at At, n *A) (timeline.Edit, Outcome, error) {
			t, err := slotType(at, n.Type)
			if err != nil {
				return nil, Outcome{}, err
			}
			first := NextSlot(t)
			if n.First != (SlotPlace{}) {
				first.Block, first.Number = n.First.Block, n.First.Number
			}
			if first, err = n.of(first); err != nil {
				return nil, Outcome{}, err
			}
			if n.Count < 1 || n.Count > 512 {
				return nil, Outcome{}, &timeline.ValueError{Field: "count", Value: strconv.Itoa(n.Count), Want: "must be a whole number from 1 to 512"}
			}
			list, fresh := slices.Clone(t.Slots), map[timeline.Slot]bool{}
			for i := range n.Count {
				s := first
				s.Number += i * s.Width()
				if n.Heads {
					s.Head = max(first.Head, 1) + i
				}
				if s.Number+s.Width()-1 > 512 {
					return nil, Outcome{}, &timeline.ValueError{Field: "count", Value: strconv.Itoa(n.Count), Want: fmt.Sprintf("runs past slot 512 of its block; at most %d fit from %d on", (513-first.Number)/first.Width(), first.Number)}
				}
				list, fresh[s] = append(list, s), true
			}
			return puts(t, list, fresh)
		},
		func(_ *timeline.Show, n *A) string { return "add " + timeline.Counted(n.Count, "slot") })
}

// ChangedSlot are the arguments of a slot of a device type that is changed.
type ChangedSlot struct {
	Type timeline.ID
	Slot SlotPlace
	SlotWords
}

func changeSlot() *Operation {
	type A = ChangedSlot
	which := slotPlace(func(c *A) *SlotPlace { return &c.Slot })
	which.NoForm = true
	return slotChange(Operation{Name: "change", Menu: "Change slot…", Title: "Change a slot", Button: "Change",
		Tip:  "changes the chosen slot of the device type shown",
		Help: "what is given of it; --block and --number move it",
		Args: append([]Argument{typeOfSlots(func(c *A) *timeline.ID { return &c.Type }), which}, slotWords(true, func(c *A) *SlotWords { return &c.SlotWords })...)},
		func(at At, c *A) (timeline.Edit, Outcome, error) {
			t, err := slotType(at, c.Type)
			if err != nil {
				return nil, Outcome{}, err
			}
			i, err := slotAt(t, c.Slot)
			if err != nil {
				return nil, Outcome{}, err
			}
			s, err := c.of(t.Slots[i])
			if err != nil {
				return nil, Outcome{}, err
			}
			list := slices.Clone(t.Slots)
			list[i] = s
			return puts(t, list, map[timeline.Slot]bool{s: true})
		},
		func(_ *timeline.Show, _ *A) string { return "change slot" })
}

// slotAt finds a slot of a device type; the error lists those there are.
func slotAt(t *timeline.DeviceType, p SlotPlace) (int, error) {
	var names []string
	for i, s := range t.Slots {
		if placeOf(s) == p {
			return i, nil
		}
		names = append(names, placeOf(s).String())
	}
	return 0, &timeline.ValueError{Field: "slot", Value: p.String(), Want: fmt.Sprintf("is no slot of %s; it has %s", t.Name, cmp.Or(strings.Join(names, ", "), "none"))}
}

// GoneSlots are the arguments of slots that are taken out of a device type.
type GoneSlots struct {
	Type  timeline.ID
	Slots []SlotPlace
}

func removeSlots() *Operation {
	type A = GoneSlots
	list := field.List("slot", "the slots, block.number", func(g *A) *[]SlotPlace { return &g.Slots }, SlotPlace.String, parseSlotPlace)
	return slotChange(Operation{Name: "remove", Menu: "Remove slots", Title: "Remove slots", Button: "Remove",
		Tip:  "takes the chosen slots out of the device type shown",
		Help: "takes slots out of the type",
		Args: []Argument{typeOfSlots(func(g *A) *timeline.ID { return &g.Type }), {Field: list, Word: "SLOT…", NoForm: true}}},
		func(at At, g *A) (timeline.Edit, Outcome, error) {
			t, err := slotType(at, g.Type)
			if err == nil && len(g.Slots) == 0 {
				err = errors.New("no slot is chosen")
			}
			if err != nil {
				return nil, Outcome{}, err
			}
			for _, p := range g.Slots {
				if _, err := slotAt(t, p); err != nil {
					return nil, Outcome{}, err
				}
			}
			return puts(t, slices.DeleteFunc(slices.Clone(t.Slots), func(s timeline.Slot) bool { return slices.Contains(g.Slots, placeOf(s)) }), nil)
		},
		func(_ *timeline.Show, g *A) string { return "remove " + timeline.Counted(len(g.Slots), "slot") })
}

// OwnSlot are the arguments of what a show makes of one slot of its devices: a
// name, a meaning where the type leaves it open, an address. An empty text is as
// the type has it; None takes the change away.
type OwnSlot struct {
	Slot               SlotPlace
	Devices            []timeline.ID
	Name               string
	Role               timeline.SlotRole
	Head, On, Off, Out string
	None               bool
}

func ownSlot() *Operation {
	type A = OwnSlot
	text := func(name, label, hint, help string, at func(*A) *string) Argument {
		return Argument{Field: trimmed(field.Text(name, help, at), at), Label: label, Hint: hint}
	}
	which := slotPlace(func(x *A) *SlotPlace { return &x.Slot })
	which.Label, which.Need = "Slot", "no slot is chosen"
	role := field.Choice("role", "a meaning of its own, where the type leaves the slot open or spare", func(x *A) *timeline.SlotRole { return &x.Role }, append([]timeline.SlotRole{""}, timeline.SlotRoles()...))
	return tells(does(Operation{Verb: "slot", Name: "own", Menu: "Slot of the device…", Title: "Slot of a device", Button: "Change",
		Tip:  "renames, moves or gives a meaning to one slot of the chosen devices, in this show alone",
		Help: "what this show makes of one slot of its devices:\n--name, --at, where the type leaves it open --role\n--head --on --off, or as the type has it: --none",
		Args: []Argument{
			which,
			{Field: ids("device", "devices of one type", func(x *A) *[]timeline.ID { return &x.Devices }, "device"), Word: "DEVICE…", NoForm: true, read: readDevices},
			text("name", "Name", "the type's", "what this show calls it", func(x *A) *string { return &x.Name }),
			{Field: role, Label: "Role"},
			text("head", "Head", "the type's", "which effect of the device it serves, from 1", func(x *A) *string { return &x.Head }),
			text("on", "On", "64..127", "range of values in which the role is on", func(x *A) *string { return &x.On }),
			text("off", "Off", "the type's", "value that is off; it must lie outside", func(x *A) *string { return &x.Off }),
			text("at", "Address", "2.17; empty = in its block", "universe.slot, where this one slot is not in its block", func(x *A) *string { return &x.Out }),
			{Field: field.Flag("none", "the slot is again as its type has it", func(x *A) *bool { return &x.None }), Label: "As the type", Hint: "take the change away"},
		}},
		func(at At, x *A) (timeline.Edit, error) {
			devices, err := x.changed(at.Show)
			return func(d *timeline.Draft) error {
				for _, v := range devices {
					d.Put("", v)
				}
				return nil
			}, err
		},
		func(_ *timeline.Show, x *A) string { return "change slot " + x.Slot.String() }),
		func(at At, x *A) (Outcome, error) {
			devices, err := x.changed(at.Show)
			if err != nil {
				return Outcome{}, err
			}
			first := devices[0]
			out := Outcome{Columns: columns("Slot", "Role", "On", "#Head", "Address")}
			for _, s := range at.Show.Stock.DeviceTypeOf(first).Slots {
				where := "none yet"
				if p, ok := first.Address(s); ok {
					where = p.String()
				}
				out.Rows = append(out.Rows, []string{strings.TrimSpace(placeOf(s).String() + "  " + s.Name), string(s.Role), fmt.Sprintf("%d..%d", s.From, s.To), strconv.Itoa(s.Head), where})
			}
			return out, nil
		})
}

// readDevices finds a device, or all whose names begin as given before a *.
func readDevices(p *timeline.Plan, text string) (field.Value, error) {
	if !strings.HasSuffix(text, "*") {
		ref, err := p.FindRecord("device:" + text)
		return field.Value{Text: string(ref.ID)}, err
	}
	v, err := readPatched(p, text)
	var kept []string
	for _, item := range v.Items {
		if id, ok := strings.CutPrefix(item, "device="); ok {
			kept = append(kept, id)
		}
	}
	if err == nil && len(kept) == 0 {
		err = fmt.Errorf("no device has a name that begins with %q; emberbeat list SHOW devices shows them", strings.TrimSuffix(text, "*"))
	}
	return field.Value{Items: kept}, err
}

// changed gives the devices as they are then.
func (x *OwnSlot) changed(s *timeline.Show) ([]*timeline.Device, error) {
	if len(x.Devices) == 0 {
		return nil, errors.New("no device is chosen")
	}
	var own []timeline.SlotChange
	if !x.None {
		c, err := x.change()
		if err != nil {
			return nil, err
		}
		own = append(own, c)
	}
	var list []*timeline.Device
	for _, id := range x.Devices {
		v := s.Rig.Device(id)
		if v == nil {
			return nil, &timeline.ValueError{Field: "device", Value: string(id), Want: "names no device of this show"}
		}
		t := s.Stock.DeviceType(v.Type)
		switch {
		case t == nil:
			return nil, fmt.Errorf("the type of %s is not in the stock, so that nothing says which slots it has", v.Name)
		case v.Type != s.Rig.Device(x.Devices[0]).Type:
			return nil, errors.New("choose devices of one type: their slots differ")
		}
		if _, err := slotAt(t, x.Slot); err != nil {
			return nil, err
		}
		next := *v
		next.Slots = slices.DeleteFunc(slices.Clone(v.Slots), func(c timeline.SlotChange) bool { return c.Block == x.Slot.Block && c.Number == x.Slot.Number })
		next.Slots = append(next.Slots, own...)
		list = append(list, &next)
	}
	if x.Out != "" && !x.None && len(list) > 1 {
		return nil, &timeline.ValueError{Field: "at", Value: x.Out, Want: "is the address of one slot; choose one device alone to give its slot an address"}
	}
	return list, nil
}

// change reads the change that is given, in the form in which files have it.
func (x *OwnSlot) change() (timeline.SlotChange, error) {
	c := timeline.SlotChange{Block: x.Slot.Block, Number: x.Slot.Number, Name: x.Name}
	text := x.Slot.String()
	if x.Role != "" {
		text += " role=" + string(x.Role)
	}
	for _, v := range []struct{ name, value string }{{"head", x.Head}, {"on", x.On}, {"off", x.Off}, {"at", x.Out}} {
		if v.value == "" {
			continue
		}
		if strings.ContainsAny(v.value, " =\"") {
			return c, &timeline.ValueError{Field: v.name, Value: v.value, Want: "holds a space, = or a quotation mark; write one value"}
		}
		if _, err := timeline.ParseSlotChange(x.Slot.String() + " " + v.name + "=" + v.value); err != nil {
			return c, &timeline.ValueError{Field: v.name, Value: v.value, Want: err.Error()}
		}
		text += " " + v.name + "=" + v.value
	}
	if text == x.Slot.String() {
		if c.Name == "" {
			return c, &timeline.ValueError{Field: "name", Want: "is empty, and so are the others; write what differs from the type"}
		}
		return c, nil
	}
	given, err := timeline.ParseSlotChange(text)
	given.Name = c.Name
	return given, err
}
