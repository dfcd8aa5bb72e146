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
	"emberbeat/timeline/units"
)

// nightOperations make the show of one date and change it; the tour stays as it
// is.
func nightOperations() []*Operation {
	return []*Operation{newNight(), cut(), swap(), out(), plug(), nightVersion(), shift(), fill(), condition(), nightDistance(), accept(), nightBack()}
}

// onNight gives the id of the night that an operation is done to.
func onNight(at At) timeline.ID { return at.On.ID }

// NewNight are the arguments of a night that is made.
type NewNight struct {
	Name, Date, Revision string
	ID, Venue, Set, Like timeline.ID // Like is a night whose set, venue and changes it takes
}

func newNight() *Operation {
	type A = NewNight
	text := func(name, help string, at func(*A) *string) Argument {
		return Argument{Field: field.Text(name, help, at)}
	}
	record := func(kind, help string, at func(*A) *timeline.ID) Argument {
		return Argument{Field: id(kind, help, at, kind), read: func(p *timeline.Plan, text string) (field.Value, error) {
			ref, err := p.FindRecord(kind + ":" + text)
			if err != nil {
				return field.Value{}, &timeline.ValueError{Kind: "night", Field: kind, Value: text, Want: err.Error()}
			}
			return field.Value{Text: string(ref.ID)}, nil
		}}
	}
	return does(Operation{Verb: "night", Name: "new", Menu: "New night", Title: "New night", Button: "Make",
		Tip:  "makes a night of the tour's set, and goes to it",
		Help: "a night: --date --venue --set --name --revision;\n--like NIGHT takes another one's set, venue and changes",
		Args: []Argument{
			text("name", "what the crew calls it (default: venue and date)", func(a *A) *string { return &a.Name }),
			{Field: id("id", "its id (default: a random one)", func(a *A) *timeline.ID { return &a.ID })},
			text("date", "yyyy-mm-dd", func(a *A) *string { return &a.Date }),
			record("venue", "the place, by name or id", func(a *A) *timeline.ID { return &a.Venue }),
			record("set", "the running order, by name or id (default: the tour's)", func(a *A) *timeline.ID { return &a.Set }),
			text("revision", "printed on every sheet", func(a *A) *string { return &a.Revision }),
			{Field: id("like", "a night whose set, venue and changes it takes", func(a *A) *timeline.ID { return &a.Like }, "night"), read: readNight},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			var n timeline.Night
			if other := at.Show.Night(a.Like); other != nil {
				n = other.Like()
			}
			if n.ID = a.ID; n.ID == "" {
				n.ID = at.NewID("night", "")
			}
			n.Name, n.Date, n.Revision = a.Name, a.Date, a.Revision
			n.Venue, n.Set = cmp.Or(a.Venue, n.Venue), cmp.Or(a.Set, n.Set)
			return timeline.AddNight(n), nil
		},
		func(_ *timeline.Show, a *A) string { return "add night " + cmp.Or(a.Name, a.Date, string(a.ID)) })
}

// readNight finds a night by its date, too.
func readNight(p *timeline.Plan, text string) (field.Value, error) {
	n, err := p.Show.FindNight(text)
	if err != nil {
		return field.Value{}, err
	}
	return field.Value{Text: string(n.ID)}, nil
}

// signed is said where a reason is asked for.
const signed = "stands on the cut list that is signed"

func cut() *Operation {
	type A = timeline.Cut
	o := does(Operation{Verb: "night", On: "night", Name: "cut", Menu: "Cut…", Title: "Cut for the night", Button: "Cut", Plays: true,
		Tip:  "takes cues out for the night in view: a family, article, placed effect, lane or song",
		Help: "cues taken out: family= article= placed= lane= cue= song=",
		Args: []Argument{chosen(func(c *A) *timeline.Selector { return &c.Selector }), reason("Reason", signed, func(c *A) *string { return &c.Reason })}},
		func(at At, c *A) (timeline.Edit, error) { return timeline.CutTonight(onNight(at), *c), nil },
		func(s *timeline.Show, c *A) string { return "cut " + s.Chosen(c.Selector) })
	return leaves(o, list[A, A]{field: "cuts", at: func(n *timeline.Night) *[]A { return &n.Cuts }, why: func(c A) string { return c.Reason }})
}

func swap() *Operation {
	type A = timeline.Swap
	o := does(Operation{Verb: "night", On: "night", Name: "swap", Menu: "Swap…", Title: "Swap for the night, same hits", Button: "Swap", Plays: true,
		Tip:  "puts another article on the same hits for the night in view",
		Help: "--to ARTICLE, on the same hits",
		Args: []Argument{
			chosen(func(w *A) *timeline.Selector { return &w.Selector }),
			{Field: id("to", "the article that is played instead", func(w *A) *timeline.ID { return &w.To }, "article"), Label: "For",
				Need: "nothing is played instead; add {to} with its name or id, an article of the stock"},
			reason("Reason", signed, func(w *A) *string { return &w.Reason }),
		}},
		func(at At, w *A) (timeline.Edit, error) { return timeline.SwapTonight(onNight(at), *w), nil },
		func(s *timeline.Show, w *A) string {
			return fmt.Sprintf("swap %s for %s, same hits", s.Chosen(w.Selector), s.Named("article", w.To))
		})
	return leaves(o, list[A, A]{field: "swaps", at: func(n *timeline.Night) *[]A { return &n.Swaps }, why: func(w A) string { return w.Reason }})
}

// rigChange is the argument of what is taken out or plugged in.
func rigChange(name, help string, kinds ...string) Argument {
	type A = timeline.RigChange
	return Argument{Field: kindAndID(name, help, func(c *A) (string, timeline.ID) { return c.Kind, c.ID },
		func(c *A, kind string, id timeline.ID) { c.Kind, c.ID = kind, id }, kinds...), Word: "NAME", Label: "Which", Need: "nothing is chosen", Kinded: true}
}

// rigList is the list that taking out and plugging in share.
func rigList(own func(timeline.RigChange) bool) list[timeline.RigChange, timeline.RigChange] {
	type A = timeline.RigChange
	return list[A, A]{field: "rig-changes", at: func(n *timeline.Night) *[]A { return &n.Rig }, own: own, why: func(c A) string { return c.Why }}
}

// TakenOut are the arguments of what is taken out of a night's rig, for one reason.
type TakenOut struct {
	Things []timeline.Ref
	Why    string
}

// outKinds are what can be taken out.
var outKinds = []string{"bank", "device", "placed"}

func out() *Operation {
	type A = TakenOut
	one := kindAndID("name", "what is out", func(a *A) (string, timeline.ID) {
		if len(a.Things) == 0 {
			return "", ""
		}
		return a.Things[0].Kind, a.Things[0].ID
	}, func(a *A, kind string, id timeline.ID) { a.Things = []timeline.Ref{{Kind: kind, ID: id}} }, outKinds...)
	o := does(Operation{Verb: "night", On: "night", Name: "out", Menu: "Take out of the rig…", Title: "Take out of the night's rig", Button: "Take out", Plays: true,
		Tip:  "takes a placed effect, bank or device out for the night in view",
		Help: "placed effects, banks, devices or all of a group are out\nof the rig; Jet* is all whose names begin so",
		Args: []Argument{
			{Field: one, Label: "Which", Need: "nothing is chosen", Kinded: true, NoVerb: true},
			{Field: refs("names", "what is out", func(a *A) *[]timeline.Ref { return &a.Things }, outKinds...), Word: "NAME…", Kinded: true, NoForm: true, read: readOut},
			reason("Why", "dead at sound-check", func(a *A) *string { return &a.Why }),
		}},
		func(at At, a *A) (timeline.Edit, error) {
			var edits []timeline.Edit
			for _, r := range a.Things {
				edits = append(edits, timeline.TakeOutTonight(onNight(at), timeline.RigChange{Kind: r.Kind, ID: r.ID, Why: a.Why}))
			}
			if len(edits) == 0 {
				return nil, errors.New("nothing is chosen")
			}
			return together(edits), nil
		},
		func(s *timeline.Show, a *A) string {
			var names []string
			for i, r := range a.Things {
				if i == 3 && len(a.Things) > 4 {
					names = append(names, fmt.Sprintf("%d more", len(a.Things)-i))
					break
				}
				names = append(names, s.NamedRef(r))
			}
			return "out of the rig: " + strings.Join(names, ", ")
		})
	l := list[A, timeline.RigChange]{field: "rig-changes", at: func(n *timeline.Night) *[]timeline.RigChange { return &n.Rig }, own: func(c timeline.RigChange) bool { return c.Out }, why: func(c timeline.RigChange) string { return c.Why }}
	l.args = func(c timeline.RigChange) *A {
		return &A{Things: []timeline.Ref{{Kind: c.Kind, ID: c.ID}}, Why: c.Why}
	}
	return leaves(o, l)
}

// readOut finds what is taken out: one thing, all whose names begin as given
// before a *, or the members of a group.
func readOut(p *timeline.Plan, text string) (field.Value, error) {
	item := func(kind string, id timeline.ID) string { return kind + "=" + string(id) }
	if start, many := strings.CutSuffix(text, "*"); many {
		var v field.Value
		names := p.Show.Names()
		for _, kind := range outKinds {
			for _, r := range timeline.KindOf(kind).List(p.Show, "") {
				if name := names.Called("", r); len(name) >= len(start) && strings.EqualFold(name[:len(start)], start) {
					v.Items = append(v.Items, item(kind, r.RecordID()))
				}
			}
		}
		if len(v.Items) == 0 {
			return v, fmt.Errorf("nothing in the rig has a name that begins with %q; emberbeat list SHOW placed shows the effects", start)
		}
		return v, nil
	}
	ref, err := p.FindOneOf(text, outKinds...)
	if err == nil {
		return field.Value{Text: item(ref.Kind, ref.ID)}, nil
	}
	if r, none := p.FindRecord("group:" + strings.TrimPrefix(text, "group=")); none == nil {
		var v field.Value
		for _, id := range p.Show.Rig.Group(r.ID).Members {
			v.Items = append(v.Items, item("placed", id))
		}
		if len(v.Items) > 0 {
			return v, nil
		}
	}
	return field.Value{}, err
}

func plug() *Operation {
	type A = timeline.RigChange
	output := in("", field.Parsed("output", "its number, from 1", func(c *A) *int { return &c.Output }, writeCount, func(s string) (int, error) {
		n, err := strconv.Atoi(s)
		if err != nil {
			return 0, fmt.Errorf("is no output; write its number, from 1")
		}
		return n, nil
	}))
	output.Type = field.WholeType
	o := does(Operation{Verb: "night", On: "night", Name: "plug", Menu: "Plug in…", Title: "Plug into another output for the night", Button: "Plug in", Plays: true,
		Tip:  "plugs a placed effect, or one of its wires, into another output for the night in view",
		Help: "a placed effect, or wire, goes to output N of a bank or\ndevice (swap-bank --night does it for a whole bank)",
		Args: []Argument{
			rigChange("name", "what is plugged in elsewhere", "placed", "wire"),
			{Field: id("unit", "the bank or device", func(c *A) *timeline.ID { return &c.Driver }, "bank", "device"), Word: "UNIT", Label: "Into", Need: "no bank or device is chosen"},
			{Field: output, Word: "N", Label: "Output", Hint: "its number, from 1", Need: "no output is given"},
			reason("Why", "jet in its place", func(c *A) *string { return &c.Why }),
		}},
		func(at At, c *A) (timeline.Edit, error) { return timeline.PlugTonight(onNight(at), *c), nil },
		func(s *timeline.Show, c *A) string {
			return fmt.Sprintf("plugged into %s output %d: %s", driver(s, c.Driver), c.Output, plugged(s, c))
		})
	return leaves(o, rigList(func(c A) bool { return !c.Out }))
}

// writeCount writes a number that counts from 1; 0 is not given.
func writeCount(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// driver names a bank or device.
func driver(s *timeline.Show, id timeline.ID) string {
	if s.Rig.Bank(id) != nil {
		return s.Named("bank", id)
	}
	return s.Named("device", id)
}

// plugged names what a night plugs in elsewhere: a wire by its effect.
func plugged(s *timeline.Show, c *timeline.RigChange) string {
	if w, ok := timeline.KindOf("wire").Find(s, "", c.ID).(*timeline.Wire); ok && c.Kind == "wire" {
		return s.Named("placed", w.Placed)
	}
	return s.Named(c.Kind, c.ID)
}

// Moving are the arguments of a song that is moved. A By of 0 ends what moved
// it; one that is not given leaves that to Start.
type Moving struct {
	Song  timeline.ID
	By    *timeline.Time
	Start *timeline.Timecode
}

func shift() *Operation {
	type A = Moving
	o := does(Operation{Verb: "night", On: "night", Name: "shift", Menu: "Move song…", Title: "Move a song for the night", Button: "Move", Plays: true,
		Tip:  "moves all of a song for the night in view because playback is late or early, or starts it elsewhere",
		Help: "--by SECONDS, for playback that is late, or with - early;\n0 ends it; --start TIMECODE; what moves is listed",
		Args: []Argument{
			{Field: id("song", "the song", func(m *A) *timeline.ID { return &m.Song }, "song"), Word: "SONG", Label: "Song", Need: "no song is chosen"},
			{Field: in("s", optional("by", "seconds", func(m *A) **timeline.Time { return &m.By }, timeline.Time.String, timeline.ParseTime)), Label: "Everything by",
				Hint: "later is more than 0: playback starts that much after timecode"},
			{Field: optional("start", "another timecode for the start of the song", func(m *A) **timeline.Timecode { return &m.Start }, timeline.Timecode.String, timeline.ParseTimecode), Label: "Start at",
				Hint: "another timecode, as in 05:00:00:00; empty = the tour's"},
		}},
		func(at At, m *A) (timeline.Edit, error) {
			if m.By == nil && m.Start == nil {
				return nil, fmt.Errorf("nothing moves the song; add {by} with seconds, or {start} with a timecode")
			}
			h := timeline.Shift{Song: m.Song, Start: m.Start}
			if m.By != nil {
				h.By = *m.By
			}
			return timeline.ShiftTonight(onNight(at), h), nil
		},
		func(s *timeline.Show, m *A) string {
			text := "song " + s.Named("song", m.Song)
			if m.Start != nil {
				text += " starts at " + m.Start.String()
			}
			switch {
			case m.By != nil && *m.By != 0:
				text += fmt.Sprintf(" moved by %s s", *m.By)
			case m.Start == nil:
				text += " moved no more"
			}
			return text
		})
	return leaves(o, list[A, timeline.Shift]{field: "shifts", at: func(n *timeline.Night) *[]timeline.Shift { return &n.Shifts }, args: func(h timeline.Shift) *A {
		m := &A{Song: h.Song, Start: h.Start}
		if h.By != 0 {
			m.By = &h.By
		}
		return m
	}})
}

func fill() *Operation {
	type A = timeline.Fill
	kg := in("kg", field.Parsed("kg", "what it was weighed at", func(f *A) *float64 { return &f.Kg }, field.FormatNumber, func(s string) (float64, error) {
		x, err := units.Metres.Read("kg", s)
		if err != nil {
			return 0, fmt.Errorf("must be a mass in kg, 0 or more")
		}
		return x, nil
	}))
	kg.Type = field.NumberType
	o := does(Operation{Verb: "night", On: "night", Name: "fill", Menu: "Weigh supply…", Title: "Weigh a supply", Button: "Enter",
		Tip:  "enters what a cylinder or tank was weighed at before the night in view",
		Help: "what was weighed",
		Args: []Argument{
			{Field: id("supply", "the cylinder or tank", func(f *A) *timeline.ID { return &f.Supply }, "supply"), Word: "SUPPLY", Label: "Supply", Need: "no supply is chosen"},
			{Field: kg, Word: "KG", Label: "Holds"},
		}},
		func(at At, f *A) (timeline.Edit, error) { return timeline.FillTonight(onNight(at), *f), nil },
		func(s *timeline.Show, f *A) string {
			return s.Named("supply", f.Supply) + " weighed: " + s.Told().Say("kg", f.Kg, -1)
		})
	return leaves(o, list[A, A]{field: "fills", at: func(n *timeline.Night) *[]A { return &n.Fills }})
}

func condition() *Operation {
	type A = string
	self := func(text *A) *string { return text }
	o := does(Operation{Verb: "night", On: "night", Name: "condition", Menu: "Condition…", Title: "Condition of the authority", Button: "Enter",
		Tip:  "enters a condition of the authority for the night in view",
		Help: "what the authority demands, in words",
		Args: []Argument{{Field: trimmed(field.Text("text", "no rule reads it; it stands on the sheets", self), self), Word: "TEXT", Label: "Condition", Hint: "in the officer's words"}}},
		func(at At, text *A) (timeline.Edit, error) { return timeline.ConditionTonight(onNight(at), *text), nil },
		func(_ *timeline.Show, text *A) string { return "condition: " + *text })
	return leaves(o, list[A, A]{field: "conditions", at: func(n *timeline.Night) *[]A { return &n.Conditions }})
}

func accept() *Operation {
	type A = timeline.Acceptance
	record := field.Text("record", "the record it is about", func(x *A) *string { return &x.Record })
	need := "an acceptance needs a rule, the name of who accepts, and a reason"
	why := reason("Reason", "what was looked at, and why it may stay", func(x *A) *string { return &x.Reason })
	why.Need = need
	o := does(Operation{Verb: "night", On: "night", Name: "accept", Menu: "Accept the finding…", Title: "Accept this finding for the night", Button: "Accept",
		Tip:  "takes the finding last gone to for the chosen night, with a reason and a name",
		Help: "--by NAME --reason WHY: what a rule finds about a record,\nas long as its numbers stay the same",
		Args: []Argument{
			{Field: field.Text("rule", "the rule", func(x *A) *string { return &x.Rule }), Word: "RULE", NoForm: true},
			{Field: record, Word: "RECORD", NoForm: true, read: func(p *timeline.Plan, text string) (field.Value, error) {
				ref, err := p.FindRecord(text)
				return field.Value{Text: ref.String()}, err
			}},
			why,
			{Field: trimmed(field.Text("by", "who accepts", func(x *A) *string { return &x.By }), func(x *A) *string { return &x.By }), Label: "Name", Hint: "who takes it", Need: need},
		}},
		editAccept,
		func(s *timeline.Show, x *A) string { return "accept " + x.Rule + " of " + recordNamed(s, x.Record) })
	return leaves(o, list[A, A]{field: "accepted", at: func(n *timeline.Night) *[]A { return &n.Accepted }, why: func(x A) string { return x.By + ": " + x.Reason }})
}

// editAccept hands over all that the rule finds about the record now, so that
// what was accepted with numbers of another day goes.
func editAccept(at At, x *timeline.Acceptance) (timeline.Edit, error) {
	found, err := at.Found(x.Rule)
	if err != nil {
		return nil, err
	}
	var digests, others []string
	names := at.Show.Names()
	for ref, list := range found {
		if ref.String() == x.Record {
			digests = list
		} else {
			others = append(others, names.NamedRef(ref))
		}
	}
	if slices.Sort(others); len(digests) == 0 {
		where := "nothing at all"
		if len(others) > 0 {
			where = "it has about " + strings.Join(others, ", ")
		}
		return nil, fmt.Errorf("%s has found nothing about %s on this night; %s", x.Rule, recordNamed(at.Show, x.Record), where)
	}
	return timeline.AcceptTonight(onNight(at), *x, digests...), nil
}

// recordNamed names a record that is written as Ref.String does.
func recordNamed(s *timeline.Show, text string) string {
	if kind, _, _ := strings.Cut(text, ":"); timeline.KindOf(kind) == nil {
		return "the show"
	}
	return s.NamedRef(timeline.ParseRef(text))
}

func nightDistance() *Operation {
	o := asksDistance(Operation{Verb: "night", On: "night", Name: "distance", Menu: "Distance…", Title: "Distance the authority asks for", Button: "Enter",
		Tip: "enters a distance that the authority asks for on the night in view"},
		clause("reason", "why, or who asks for it", clauseOf),
		func(at At, d timeline.Distance) timeline.Edit { return timeline.DistanceTonight(onNight(at), d) })
	return leaves(o, list[timeline.Distance, timeline.Distance]{field: "distances", at: func(n *timeline.Night) *[]timeline.Distance { return &n.Distances }})
}
