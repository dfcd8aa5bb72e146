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

// patchOperations give devices and banks addresses.
func patchOperations() []*Operation { return []*Operation{addRun(), copyRun(), renumber()} }

// startFields are the fields of banks and devices that a start is about.
var startFields = []string{"starts", "address"}

// startsAt asks where the first one starts: universe.slot for each block of a
// device, an address for a bank. None is the next free run, where one is looked
// for.
func startsAt[A any](at func(*A) *[]string) Argument {
	f := field.TextList("at", "start: universe.slot for each block, or a bank's address (default: next free)", at)
	return Argument{Field: f, Label: "Start at", Hint: "1.45, one for each block; a bank's address", Commas: true, About: startFields}
}

// starts reads where devices start, one for each block.
func starts(texts []string) ([]timeline.Patch, error) {
	var list []timeline.Patch
	for _, text := range texts {
		for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' || r == ';' }) {
			p, err := timeline.ParsePatch(word)
			if err != nil {
				return nil, &timeline.ValueError{Field: "at", Value: word, Want: err.Error()}
			}
			list = append(list, p)
		}
	}
	return list, nil
}

// address reads where a bank starts; none is 0.
func address(texts []string) (int, error) {
	if len(texts) == 0 {
		return 0, nil
	}
	n, err := strconv.Atoi(strings.TrimSpace(texts[0]))
	if err != nil || n < 1 || len(texts) > 1 {
		return 0, &timeline.ValueError{Field: "at", Value: strings.Join(texts, ","), Want: "is no address of a bank; write one whole number, 1 or more"}
	}
	return n, nil
}

// Run are the arguments of devices or banks that are added one after another.
type Run struct {
	Type        timeline.Ref // a device type or bank type
	Count       int
	Name, Space string
	Universe    int // to look for a free run in
	At          []string
	Position    timeline.ID
}

func (r *Run) start() { r.Count, r.Universe = 1, 1 }

// kind is what the run is of.
func (r *Run) kind() string { return cmp.Or(strings.TrimSuffix(r.Type.Kind, "type"), "device") }

func addRun() *Operation {
	type A = Run
	whatType := kindAndID("type", "a device type or bank type", func(r *A) (string, timeline.ID) { return r.Type.Kind, r.Type.ID },
		func(r *A, kind string, id timeline.ID) { r.Type = timeline.Ref{Kind: kind, ID: id} }, "devicetype", "banktype")
	// Which counts and universes there are says the edit.
	count := field.Parsed("count", "how many", func(r *A) *int { return &r.Count }, strconv.Itoa, wholeCount)
	universe := field.Parsed("universe", "universe to look for a free run in", func(r *A) *int { return &r.Universe }, strconv.Itoa, wholeCount)
	count.Type, universe.Type = field.WholeType, field.WholeType
	name := field.Text("name", "name before the number (default: the type's)", func(r *A) *string { return &r.Name })
	space := field.Text("space", "address space", func(r *A) *string { return &r.Space })
	return tells(does(Operation{Verb: "patch", Name: "add", Menu: "Add a run…", Title: "Add a run of banks or devices", Button: "Add",
		Tip:  "adds banks or devices one after another from a start address on, the next free one if none is given",
		Help: "--count devices or banks of a type, named --name 1, 2, 3 …",
		Args: []Argument{
			{Field: whatType, Word: "TYPE", Label: "Type", Need: "no type is chosen", Kinded: true},
			{Field: count, Label: "How many"},
			{Field: trimmed(name, func(r *A) *string { return &r.Name }), Label: "Name", Hint: "the type's"},
			{Field: trimmed(space, func(r *A) *string { return &r.Space }), Label: "Space"},
			{Field: universe, Label: "Universe"},
			startsAt(func(r *A) *[]string { return &r.At }),
			{Field: id("position", "where they stand, by name or id", func(r *A) *timeline.ID { return &r.Position }, "position"), Label: "Position"},
		}},
		editRun,
		func(_ *timeline.Show, r *A) string { return "add " + timeline.Counted(r.Count, r.kind()) }), outcomeOfRun)
}

func editRun(at At, r *Run) (timeline.Edit, error) {
	if r.Universe < 1 || r.Universe > timeline.LastUniverse {
		return nil, &timeline.ValueError{Field: "universe", Value: strconv.Itoa(r.Universe), Want: "must be a whole number from 1 to " + strconv.Itoa(timeline.LastUniverse)}
	}
	name := r.Name
	if k := timeline.KindOf(r.Type.Kind); name == "" && k != nil {
		if t := k.Find(at.Show, "", r.Type.ID); t != nil {
			name = at.Show.Called(t)
		}
	}
	newID := func() timeline.ID { return at.NewID(r.kind(), "") }
	if r.Type.Kind == "banktype" {
		first, err := address(r.At)
		return timeline.AddBanks(timeline.BankRun{Type: r.Type.ID, Count: r.Count, Name: name, Space: r.Space, Address: first, Position: r.Position}, newID), err
	}
	first, err := starts(r.At)
	return timeline.AddDevices(timeline.DeviceRun{Type: r.Type.ID, Count: r.Count, Name: name, Space: r.Space, Starts: first, Universe: r.Universe, Position: r.Position}, newID), err
}

// outcomeOfRun tells which addresses each gets, and where the run would fit.
func outcomeOfRun(at At, r *Run) (Outcome, error) {
	edit, err := editRun(at, r)
	if err != nil {
		return Outcome{}, err
	}
	out, err := addressesGiven(at.Show, edit, r.kind())
	if err != nil {
		return out, err
	}
	runs, err := at.Show.FreeRuns(r.Type, r.Space, r.Universe, r.Count)
	for _, b := range runs {
		what := "the run"
		if len(runs) > 1 {
			what = fmt.Sprintf("block %d", b.Block)
		}
		out.Lines = append(out.Lines, fmt.Sprintf("%s needs %d in a row. Next free: %s. After the last used: %s", what, b.Slots, cmp.Or(b.NextFree, "none"), cmp.Or(b.AfterLast, "none")))
	}
	return out, err
}

// addressesGiven tells which addresses an edit gives devices or banks, by
// address.
func addressesGiven(show *timeline.Show, edit timeline.Edit, kind string) (Outcome, error) {
	next, err := show.Edit(edit)
	if err != nil {
		return Outcome{}, err
	}
	out := Outcome{Columns: columns(strings.ToUpper(kind[:1])+kind[1:], "Was", "Becomes")}
	was := map[timeline.ID]timeline.Record{}
	var devices []*timeline.Device
	var banks []*timeline.Bank
	for _, c := range timeline.Diff(show, next) {
		if c.After == nil {
			continue
		}
		was[c.Ref.ID] = c.Before
		switch v := c.After.(type) {
		case *timeline.Device:
			devices = append(devices, v)
		case *timeline.Bank:
			banks = append(banks, v)
		}
	}
	timeline.ByAddress(devices)
	slices.SortStableFunc(banks, func(a, b *timeline.Bank) int { return a.Address - b.Address })
	for _, v := range devices {
		out.Rows = append(out.Rows, []string{v.Name, timeline.AddressText(was[v.ID]), timeline.AddressText(v)})
	}
	for _, b := range banks {
		out.Rows = append(out.Rows, []string{b.Name, timeline.AddressText(was[b.ID]), timeline.AddressText(b)})
	}
	return out, nil
}

// Patched are the arguments of devices or banks, all of one kind, that are
// copied or numbered anew.
type Patched struct {
	Refs []timeline.Ref
	At   []string
}

// ids gives what is patched, all of one kind.
func (x *Patched) ids() (kind string, ids []timeline.ID, err error) {
	if len(x.Refs) == 0 {
		return "", nil, errors.New("no device or bank is chosen")
	}
	for _, r := range x.Refs {
		if kind != "" && kind != r.Kind {
			return "", nil, fmt.Errorf("%s is a %s, the one before a %s; name devices or banks, not both", r, r.Kind, kind)
		}
		kind, ids = r.Kind, append(ids, r.ID)
	}
	return kind, ids, nil
}

func (x *Patched) said() string {
	if len(x.Refs) == 0 {
		return timeline.Counted(0, "device")
	}
	return timeline.Counted(len(x.Refs), x.Refs[0].Kind)
}

// patches describes an operation on devices or banks that exist.
func patches(o Operation, banks func(At, []timeline.ID, int) timeline.Edit, devices func(At, []timeline.ID, []timeline.Patch) timeline.Edit) *Operation {
	type A = Patched
	o.Verb = "patch"
	o.Args = []Argument{
		{Field: refs("name", "devices or banks", func(x *A) *[]timeline.Ref { return &x.Refs }, "device", "bank"), Word: "NAME…", Kinded: true, NoForm: true, read: readPatched},
		startsAt(func(x *A) *[]string { return &x.At }),
	}
	word, _, _ := strings.Cut(o.Button, " ")
	edit := func(at At, x *A) (timeline.Edit, error) {
		kind, ids, err := x.ids()
		if err != nil {
			return nil, err
		}
		if kind == "bank" {
			first, err := address(x.At)
			return banks(at, ids, first), err
		}
		first, err := starts(x.At)
		return devices(at, ids, first), err
	}
	return tells(does(o, edit, func(_ *timeline.Show, x *A) string { return strings.ToLower(word) + " " + x.said() }),
		func(at At, x *A) (Outcome, error) {
			e, err := edit(at, x)
			if err != nil {
				return Outcome{}, err
			}
			return addressesGiven(at.Show, e, x.Refs[0].Kind)
		})
}

func copyRun() *Operation {
	return patches(Operation{Name: "copy", Menu: "Copy with addresses…", Title: "Copy", Button: "Copy",
		Tip:  "copies the chosen banks or devices with addresses of their own",
		Help: "a copy of each, with addresses of its own"},
		func(at At, ids []timeline.ID, first int) timeline.Edit {
			return timeline.CopyBanks(ids, first, func() timeline.ID { return at.NewID("bank", "") })
		},
		func(at At, ids []timeline.ID, first []timeline.Patch) timeline.Edit {
			return timeline.CopyDevices(ids, first, func() timeline.ID { return at.NewID("device", "") })
		})
}

func renumber() *Operation {
	return patches(Operation{Name: "move", Menu: "Renumber…", Title: "Renumber", Button: "Renumber",
		Tip:  "gives the chosen banks or devices consecutive addresses from one on",
		Help: "numbers them anew, in this order, from --at on"},
		func(_ At, ids []timeline.ID, first int) timeline.Edit { return timeline.MoveBanks(ids, first) },
		func(_ At, ids []timeline.ID, first []timeline.Patch) timeline.Edit {
			return timeline.MoveDevices(ids, first)
		})
}

// readPatched gives one device or bank, or all whose names begin as given before
// a *, by address.
func readPatched(p *timeline.Plan, text string) (field.Value, error) {
	start, many := strings.CutSuffix(text, "*")
	if !many {
		ref, err := p.FindOneOf(text, "device", "bank")
		return field.Value{Text: ref.Kind + "=" + string(ref.ID)}, err
	}
	begins := func(s string) bool { return len(s) >= len(start) && strings.EqualFold(s[:len(start)], start) }
	var v field.Value
	devices := slices.Clone(p.Show.Rig.Devices)
	timeline.ByAddress(devices)
	for _, x := range devices {
		if begins(x.Name) {
			v.Items = append(v.Items, "device="+string(x.ID))
		}
	}
	banks := slices.Clone(p.Show.Rig.Banks)
	slices.SortStableFunc(banks, func(a, b *timeline.Bank) int { return a.Address - b.Address })
	for _, b := range banks {
		if begins(b.Name) {
			v.Items = append(v.Items, "bank="+string(b.ID))
		}
	}
	if len(v.Items) == 0 {
		return v, fmt.Errorf("no device or bank has a name that begins with %q; emberbeat list SHOW devices shows them", start)
	}
	return v, nil
}
