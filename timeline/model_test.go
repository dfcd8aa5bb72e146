package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// small is a show with one of everything, as tests need it: two CO2 jets on a
// relay bank, two comets on an igniter bank, one flame device with an arm slot
// behind its effect slot, two songs and a set.
func small(t testing.TB) *Show {
	t.Helper()
	s := NewShow("show1", "Test Tour", Rate25)
	beats, err := NewBeatMap([]Anchor{
		{Bar: 1, At: 0, Metre: Metre{4, 4}},
		{Bar: 31, At: 60 * Second},
	}) // 120 beats a minute
	require.NoError(t, err)
	ms := FromMillis
	records := []Record{
		&Article{Base: Base{ID: "jet"}, Name: "CO2 jet", Family: CO2Jet, HitPoint: FullEffect, Control: RelayControl,
			Lead: ms(120), Open: ms(500), Recovery: ms(1000), UseRate: 1, Medium: "CO2", Height: 6},
		&Article{Base: Base{ID: "comet"}, Name: "comet", Family: Comet, HitPoint: FirstLight, Control: IgniterControl,
			Lead: ms(40), Open: ms(1500), SingleUse: true, NEC: 12, Height: 12},
		&Article{Base: Base{ID: "flame"}, Name: "flame", Family: PropaneFlame, HitPoint: FullEffect, Control: SlotControl,
			Lead: ms(150), Open: ms(300), Recovery: ms(2000), Height: 5},
		&BankType{Base: Base{ID: "relay8"}, Name: "relay bank of 8", Kind: RelayBank, Outputs: 8},
		&BankType{Base: Base{ID: "ign16"}, Name: "igniter bank of 16", Kind: IgniterBank, Outputs: 16, Latency: ms(10)},
		&DeviceType{Base: Base{ID: "bar"}, Name: "flame bar", ArmLead: ms(1000), Slots: []Slot{
			{Block: 1, Number: 1, Role: EffectSlot, Head: 1, From: 128, To: 255},
			{Block: 1, Number: 2, Role: EffectSlot, Head: 2, From: 128, To: 255},
			{Block: 1, Number: 3, Role: ArmSlot, From: 64, To: 127},
		}},
		&StagePosition{Base: Base{ID: "left"}, Name: "front left", X: -4},
		&StagePosition{Base: Base{ID: "right"}, Name: "front right", X: 4},
		&Placed{Base: Base{ID: "j1"}, Name: "jet 1", Article: "jet", Position: "left"},
		&Placed{Base: Base{ID: "j2"}, Name: "jet 2", Article: "jet", Position: "right"},
		&Placed{Base: Base{ID: "c1"}, Name: "comet 1", Article: "comet", Position: "left"},
		&Placed{Base: Base{ID: "c2"}, Name: "comet 2", Article: "comet", Position: "right"},
		&Placed{Base: Base{ID: "f1"}, Name: "flame 1", Article: "flame", Position: "left"},
		&Placed{Base: Base{ID: "f2"}, Name: "flame 2", Article: "flame", Position: "right"},
		&Group{Base: Base{ID: "jets"}, Name: "all jets", Members: []ID{"j1", "j2"}},
		&Group{Base: Base{ID: "flames"}, Name: "all flames", Members: []ID{"f1", "f2"}},
		&Bank{Base: Base{ID: "b1"}, Name: "bank 1", Type: "relay8", Space: "relays", Address: 1},
		&Bank{Base: Base{ID: "b2"}, Name: "bank 2", Type: "ign16", Space: "igniters", Address: 1},
		&Device{Base: Base{ID: "d1"}, Name: "bar 1", Type: "bar", Starts: []Patch{{1, 45}}},
		&Wire{Base: Base{ID: "w1"}, Placed: "j1", Driver: "b1", Output: 1},
		&Wire{Base: Base{ID: "w2"}, Placed: "j2", Driver: "b1", Output: 2},
		&Wire{Base: Base{ID: "w3"}, Placed: "c1", Driver: "b2", Output: 1},
		&Wire{Base: Base{ID: "w4"}, Placed: "f1", Driver: "d1", Output: 1},
		&Wire{Base: Base{ID: "w5"}, Placed: "f2", Driver: "d1", Output: 2},
		&Supply{Base: Base{ID: "cyl"}, Name: "cylinder", Medium: "CO2", Fill: 10, Units: 1, Usable: 0.8, Reserve: 0.15, Feeds: []ID{"j1", "j2"}},
		&SongHead{Base: Base{ID: "ember"}, Title: "Ember", Slug: "ember", Start: Timecode{H: 1}, Length: 60 * Second, PreRoll: 5 * Second, Beats: beats},
		&SongHead{Base: Base{ID: "tide"}, Title: "Tide", Slug: "tide", Start: Timecode{H: 2}, Length: 30 * Second},
	}
	song := []Record{
		&Lane{Base: Base{ID: "ljet"}, Name: "jets", Target: "jets", Role: EffectSlot},
		&Lane{Base: Base{ID: "lcom"}, Name: "comets", Target: "c1", Role: EffectSlot},
		&Lane{Base: Base{ID: "lfla"}, Name: "flames", Target: "flames", Role: EffectSlot},
		&Lane{Base: Base{ID: "larm"}, Name: "flame arm", Target: "flames", Role: ArmSlot},
		&Cue{Base: Base{ID: "q1"}, Lane: "ljet", At: AtBar(BarBeat{Bar: 3})},
		&Cue{Base: Base{ID: "q2"}, Lane: "lcom", At: AtBar(BarBeat{Bar: 5, Beat: NewRat(1, 2)})},
		&Cue{Base: Base{ID: "q3"}, Lane: "lfla", At: AtTime(20 * Second), Target: "f2", Open: ms(800)},
		&Cue{Base: Base{ID: "q4"}, Lane: "larm", At: AtTime(ms(18010)), Open: ms(4000)},
		&Cue{Base: Base{ID: "q5"}, Lane: "ljet", At: AtTime(40 * Second), Disabled: true},
	}
	s, err = s.Edit(func(d *Draft) error { d.Put("", records...); return nil }, func(d *Draft) error {
		d.Put("ember", song...)
		d.Put("tide", &Lane{Base: Base{ID: "ljet"}, Name: "jets", Target: "jets", Role: EffectSlot},
			&Cue{Base: Base{ID: "q1"}, Lane: "ljet", At: AtTime(Second)})
		d.Put("", &Set{Base: Base{ID: "main"}, Name: "main", Entries: []Entry{{Song: "ember", Gap: 8 * Second}, {Song: "tide"}}})
		return nil
	})
	require.NoError(t, err)
	return s
}

func set(kind, song, id, field, value string) Edit {
	return func(d *Draft) error {
		return d.Set(Ref{kind, ID(song), ID(id)}, field, Value{Text: value})
	}
}

// Every kind's table can write what it reads, and every field says what it is.
func TestFieldTables(t *testing.T) {
	require.Len(t, Kinds(), len(kindTable))
	for _, k := range Kinds() {
		r := k.New("x")
		require.Equal(t, ID("x"), r.RecordID(), k.Name)
		require.Same(t, k, KindOfRecord(r))
		require.Same(t, k, KindOf(k.Plural))
		for _, f := range k.Fields {
			require.True(t, f.Get(r).Equal(f.Default), "%s %s", k.Name, f.Name)
			require.NoError(t, f.Set(r, f.Default), "%s %s", k.Name, f.Name)
			require.True(t, f.Get(r).Equal(f.Default), "%s %s after setting its default", k.Name, f.Name)
			if f.Name != "note" {
				require.NotEmpty(t, f.Help, "%s %s", k.Name, f.Name)
			}
			for _, ref := range f.Ref {
				require.NotNil(t, KindOf(ref), "%s %s names kind %s", k.Name, f.Name, ref)
			}
		}
		require.True(t, k.Equal(r, k.Clone(r)))
		require.NotSame(t, r, k.Clone(r))
	}
}

// A value that cannot be is refused with the field, the value and what would
// be valid, and the show stays as it was.
func TestImpossibleValues(t *testing.T) {
	s := small(t)
	for _, c := range []struct{ kind, song, id, field, value, want string }{
		{"article", "", "jet", "lead", "fast", `article lead: "fast"`},
		{"article", "", "jet", "lead", "-1", "negative"},
		{"article", "", "jet", "height", "NaN", "from 0 to 1000 m"},
		{"article", "", "jet", "family", "laser", "is not one of: fountain-long"},
		{"article", "", "jet", "single-use", "maybe", "true or false"},
		{"article", "", "jet", "colour", "red", "is no field of this kind; fields: name"},
		{"article", "", "gone", "lead", "1", "there is no such record"},
		{"placed", "", "j1", "article", "gone", "names no article of this show"},
		{"placed", "", "j1", "article", "Not An Id", "is no id"},
		{"bank", "", "b1", "type", "bar", "names no banktype"},
		{"cue", "ember", "q1", "at", "01:00:00:00", "is a timecode"},
		{"cue", "ember", "q1", "at", "soon", "cue at"},
		{"cue", "ember", "q1", "lane", "lgone", "names no lane"},
		{"song", "", "tide", "slug", "ember", "is taken by song \"Ember\""},
		{"song", "", "tide", "slug", "", "is empty"},
		{"show", "", "show1", "rate", "26", "29.97df"},
		{"night", "", "n", "date", "1", "no such record"},
		{"laser", "", "x", "y", "z", "is no kind of record"},
	} {
		next, err := s.Edit(set(c.kind, c.song, c.id, c.field, c.value))
		require.ErrorContains(t, err, c.want, "%+v", c)
		require.Nil(t, next)
	}
	_, err := s.Edit(func(d *Draft) error { d.Put("nowhere", &Cue{Base: Base{ID: "q"}}); return nil })
	require.ErrorContains(t, err, `no song "nowhere"`)
	_, err = s.Edit(func(d *Draft) error { d.Put("", &Article{Base: Base{ID: "Bad Id"}}); return nil })
	require.ErrorContains(t, err, "is no id")
}

func TestRemoveWhatIsUsed(t *testing.T) {
	s := small(t)
	_, err := s.Edit(func(d *Draft) error { return d.Remove(Ref{Kind: "article", ID: "comet"}) })
	require.EqualError(t, err, "article \"comet\" is still used by placed \"comet 1\", placed \"comet 2\"; change or remove that first")

	next, err := s.Edit(func(d *Draft) error {
		for _, r := range []Ref{{"cue", "ember", "q2"}, {"lane", "ember", "lcom"}, {"wire", "", "w3"}, {"placed", "", "c1"}, {"placed", "", "c2"}, {"article", "", "comet"}} {
			if err := d.Remove(r); err != nil {
				return err
			}
		}
		return nil
	})
	require.NoError(t, err)
	require.Nil(t, next.Stock.Article("comet"))
	require.NotNil(t, s.Stock.Article("comet"), "the old snapshot keeps it")
}

// A reference that was lost before does not stand in the way of other edits.
func TestEditBesideLostReference(t *testing.T) {
	s := small(t)
	d := NewDraft(s)
	d.Put("ember", &Cue{Base: Base{ID: "q9"}, Lane: "gone"})
	lost := d.Show()
	next, err := lost.Edit(set("cue", "ember", "q9", "note", "hello"))
	require.NoError(t, err)
	require.Equal(t, "hello", next.Song("ember").Cue("q9").Note)
}

// A date is a day of the calendar, leap years included.
func TestDates(t *testing.T) {
	f := KindOf("night").Field("date")
	for _, s := range []string{"", "2031-05-09", "2032-02-29", "2000-02-29", "2031-12-31"} {
		require.NoError(t, f.Set(KindOf("night").New("n"), Value{Text: s}), s)
	}
	for _, s := range []string{"2031-02-29", "2100-02-29", "2031-02-31", "2031-04-31", "+031-05-09", "2031-+5-09", "2031-13-01", "2031-5-9", "9 May 2031", "2031-05-09 ", "2031-00-10"} {
		require.ErrorContains(t, f.Set(KindOf("night").New("n"), Value{Text: s}), "day of the calendar", s)
	}
}

func TestHistory(t *testing.T) {
	a := small(t)
	b, err := a.Edit(set("show", "", "show1", "title", "B"))
	require.NoError(t, err)
	c, err := b.Edit(set("show", "", "show1", "title", "C"))
	require.NoError(t, err)
	h := NewHistory(a)
	_, ok := h.Undo()
	require.False(t, ok)
	h.Push("to B", b)
	h.Push("to C", c)
	label, ok := h.Undo()
	require.True(t, ok)
	require.Equal(t, "to C", label)
	require.Same(t, b, h.Show())
	undo, redo := h.Labels()
	require.Equal(t, []string{"to B"}, undo)
	require.Equal(t, []string{"to C"}, redo)
	_, ok = h.Redo()
	require.True(t, ok)
	require.Same(t, c, h.Show())
	_, ok = h.Redo()
	require.False(t, ok)
	h.Undo()
	h.Undo()
	require.Same(t, a, h.Show())
	h.Amend("first", b) // nothing to amend: a step of its own
	h.Amend("again", c)
	require.Same(t, c, h.Show())
	h.Undo()
	require.Same(t, a, h.Show())
}
