package calling

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

const (
	ms  = timeline.Millisecond
	sec = timeline.Second
)

func rec[T any, P interface {
	*T
	timeline.Record
}](kind, id string, fill func(P)) timeline.Record {
	r := timeline.KindOf(kind).New(timeline.ID(id)).(P)
	fill(r)
	return r
}

func bar(n int, beat int64) timeline.Moment {
	return timeline.AtBar(timeline.BarBeat{Bar: n, Beat: timeline.NewRat(beat, 1)})
}

// board gives a song of 16 bars of 2 s: sections at 1, 5 and 9, a marker called
// re-entry at bar 7, jets at 3, 4, 6 and 8, mines at 9, an arm from bar 2 to 5 and
// from bar 8 on.
func board(t *testing.T, more ...timeline.Record) *Board {
	t.Helper()
	s := timeline.NewShow("demo", "Lanterns over Water", timeline.Rate25)
	head := rec("song", "ember", func(h *timeline.SongHead) {
		h.Title, h.Slug, h.Start, h.Length = "Ember", "ember", timeline.Timecode{H: 3}, 32*sec
		h.Beats = timeline.SteadyBeatMap(0, sec/2, timeline.Metre{Num: 4, Den: 4}, 16)
	})
	list := []timeline.Record{
		rec("section", "s1", func(s *timeline.Section) { s.Name, s.At = "Opening", bar(1, 0) }),
		rec("section", "s2", func(s *timeline.Section) { s.Name, s.At = "Verse", bar(5, 0) }),
		rec("section", "s3", func(s *timeline.Section) { s.Name, s.At = "Chorus", bar(9, 0) }),
		rec("marker", "m1", func(m *timeline.Marker) { m.Name, m.At = "Re-entry, drums", bar(7, 0) }),
		rec("lane", "jets", func(l *timeline.Lane) { l.Name, l.Target = "Jets", "both" }),
		rec("lane", "mines", func(l *timeline.Lane) { l.Name, l.Target = "Mines", "mine-1" }),
		rec("lane", "arms", func(l *timeline.Lane) { l.Name, l.Target, l.Role = "Jet arms", "both", timeline.ArmSlot }),
		rec("cue", "arm-1", func(c *timeline.Cue) { c.Lane, c.At, c.Open = "arms", bar(2, 0), 6*sec }),
		rec("cue", "arm-2", func(c *timeline.Cue) { c.Lane, c.At, c.Open, c.Note = "arms", bar(8, 0), 2*sec, "arms up again" }),
		rec("cue", "mine", func(c *timeline.Cue) { c.Lane, c.At, c.Note = "mines", bar(9, 0), "mines, singer off the lip" }),
	}
	for id, at := range map[string]int{"j3": 3, "j4": 4, "j6": 6, "j8": 8} {
		list = append(list, rec("cue", id, func(c *timeline.Cue) { c.Lane, c.At = "jets", bar(at, 0) }))
	}
	show, err := s.Edit(func(d *timeline.Draft) error {
		d.Put("", rec("article", "jet", func(a *timeline.Article) {
			a.Name, a.Family, a.Lead, a.Open, a.Height = "Cold jet", timeline.CO2Jet, 120*ms, 500*ms, 6
		}), rec("article", "mine", func(a *timeline.Article) {
			a.Name, a.Family, a.Lead, a.Open, a.SingleUse, a.Control = "Mine", timeline.Mine, 30*ms, 400*ms, true, timeline.IgniterControl
		}))
		for _, x := range []struct {
			id string
			at float64
		}{{"l", -3}, {"r", 3}, {"c", 0}} {
			d.Put("", rec("position", "p-"+x.id, func(p *timeline.StagePosition) { p.Name, p.X = "Lip "+x.id, x.at }))
		}
		d.Put("", rec("placed", "jet-l", func(p *timeline.Placed) { p.Name, p.Article, p.Position = "Jet left", "jet", "p-l" }),
			rec("placed", "jet-r", func(p *timeline.Placed) { p.Name, p.Article, p.Position = "Jet right", "jet", "p-r" }),
			rec("placed", "mine-1", func(p *timeline.Placed) { p.Name, p.Article, p.Position = "Mine 1", "mine", "p-c" }),
			rec("group", "both", func(g *timeline.Group) { g.Name, g.Members = "Both jets", []timeline.ID{"jet-l", "jet-r"} }),
			rec("devicetype", "head", func(r *timeline.DeviceType) {
				r.Name = "Jet head"
				r.Slots = []timeline.Slot{{Block: 1, Number: 1, Role: timeline.EffectSlot, From: 200, To: 255}, {Block: 1, Number: 2, Role: timeline.ArmSlot, From: 100, To: 150}}
			}),
			rec("device", "head-l", func(r *timeline.Device) { r.Name, r.Type = "Head left", "head" }),
			rec("device", "head-r", func(r *timeline.Device) { r.Name, r.Type = "Head right", "head" }),
			rec("banktype", "igniters", func(r *timeline.BankType) { r.Name, r.Kind, r.Outputs = "Igniters", timeline.IgniterBank, 16 }),
			rec("bank", "bank-a", func(r *timeline.Bank) { r.Name, r.Type = "Bank A", "igniters" }),
			rec("wire", "w1", func(r *timeline.Wire) { r.Placed, r.Driver, r.Output = "jet-l", "head-l", 1 }),
			rec("wire", "w2", func(r *timeline.Wire) { r.Placed, r.Driver, r.Output = "jet-r", "head-r", 1 }),
			rec("wire", "w3", func(r *timeline.Wire) { r.Placed, r.Driver, r.Output = "mine-1", "bank-a", 7 }),
			head, rec("set", "set", func(s *timeline.Set) { s.Name, s.Entries = "Set", []timeline.Entry{{Song: "ember"}} }))
		d.Put("ember", list...)
		d.Put("ember", more...)
		return nil
	})
	require.NoError(t, err)
	return New(timeline.Compile(show, nil), 0)
}

// names gives what some cues are called, with their bars.
func names(b *Board, list []int) (out []string) {
	for _, i := range list {
		out = append(out, b.Cues[i].Name+" "+b.Cues[i].Bar)
	}
	return out
}

// What comes, in how long, and what stands open, at moments around the commands.
func TestNextAndCountdown(t *testing.T) {
	b := board(t)
	var m Moment
	for _, c := range []struct {
		at     timeline.Time
		next   string
		in     timeline.Time
		after  []string
		open   []string
		coming int
	}{
		{0, "Jets 3.1", 3880 * ms, []string{"Jets 4.1", "Jets 6.1", "Jets 8.1", "Mines 9.1"}, nil, 5},
		{3879 * ms, "Jets 3.1", ms, []string{"Jets 4.1", "Jets 6.1", "Jets 8.1", "Mines 9.1"}, nil, 5},
		{3880 * ms, "Jets 3.1", 0, []string{"Jets 4.1", "Jets 6.1", "Jets 8.1", "Mines 9.1"}, []string{"Jets 3.1"}, 5},
		{3881 * ms, "Jets 4.1", 1999 * ms, []string{"Jets 6.1", "Jets 8.1", "Mines 9.1"}, []string{"Jets 3.1"}, 4},
		{4499 * ms, "Jets 4.1", 1381 * ms, []string{"Jets 6.1", "Jets 8.1", "Mines 9.1"}, []string{"Jets 3.1"}, 4},
		{4500 * ms, "Jets 4.1", 1380 * ms, []string{"Jets 6.1", "Jets 8.1", "Mines 9.1"}, nil, 4},
		{15 * sec, "Mines 9.1", 970 * ms, nil, nil, 1},
		{20 * sec, "", 0, nil, nil, 0},
	} {
		b.Look(&m, c.at, &Marks{})
		if c.next == "" {
			require.Equal(t, -1, m.Next, "at %s", c.at)
		} else {
			require.Equal(t, []string{c.next}, names(b, []int{m.Next}), "at %s", c.at)
		}
		require.Equal(t, c.in, m.In, "at %s", c.at)
		require.Equal(t, c.after, names(b, m.After), "at %s", c.at)
		require.Equal(t, c.open, names(b, m.Open), "at %s", c.at)
		require.Equal(t, c.coming, m.Coming, "at %s", c.at)
	}
}

// The bar is full two bars before a command, and empty with it.
func TestDrain(t *testing.T) {
	b := board(t)
	var m Moment
	for _, c := range []struct {
		at   timeline.Time
		want float64
	}{{0, 3880.0 / 4000}, {1880 * ms, 0.5}, {3880 * ms, 0}, {3881 * ms, 1999.0 / 4000}, {5880*ms + 1, 1}, {7 * sec, 0.72}} {
		b.Look(&m, c.at, &Marks{})
		require.InDelta(t, c.want, m.Drain, 0.001, "at %s", c.at)
	}
}

// Where in the song it is, and what is left of it.
func TestPlace(t *testing.T) {
	b := board(t)
	var m Moment
	for _, c := range []struct {
		at        timeline.Time
		part      string
		bar, bars int
		left      timeline.Time
	}{{0, "Opening", 1, 4, 32 * sec}, {7999 * ms, "Opening", 4, 4, 24001 * ms}, {8 * sec, "Verse", 1, 4, 24 * sec}, {31 * sec, "Chorus", 8, 8, sec}, {40 * sec, "Chorus", 13, 8, 0}} {
		b.Look(&m, c.at, &Marks{})
		require.Equal(t, c.part, b.Parts[m.Part].Name, "at %s", c.at)
		require.Equal(t, [2]int{c.bar, c.bars}, [2]int{m.Bar, m.Bars}, "at %s", c.at)
		require.Equal(t, c.left, m.Left, "at %s", c.at)
	}
}

// Arms are told as the plan has them: up until, or down until.
func TestArms(t *testing.T) {
	b := board(t)
	require.Len(t, b.Arms, 1)
	require.Equal(t, "Jet arms", b.Arms[0].Name)
	var m Moment
	for _, c := range []struct {
		at   timeline.Time
		up   bool
		in   timeline.Time
		from string
		to   string
	}{{0, false, 2 * sec, "2.1", "5.1"}, {2 * sec, true, 6 * sec, "2.1", "5.1"}, {7 * sec, true, sec, "2.1", "5.1"}, {8 * sec, false, 6 * sec, "8.1", "9.1"}, {15 * sec, true, sec, "8.1", "9.1"}} {
		b.Look(&m, c.at, &Marks{})
		a := m.Arms[0]
		require.Equal(t, c.up, a.Up, "at %s", c.at)
		require.Equal(t, c.in, a.In, "at %s", c.at)
		require.Equal(t, c.from, a.Span.UpAt, "at %s", c.at)
		require.Equal(t, c.to, a.Span.DwnAt, "at %s", c.at)
	}
	b.Look(&m, 17*sec, &Marks{})
	require.Nil(t, m.Arms[0].Span, "none comes any more")
	require.Equal(t, "arm of Head left, arm of Head right", b.Cues[0].Needs)
	require.Contains(t, b.Cues[2].Needs, "not on in timecode", "bar 6 lies between the two")
}

// What falls into a hold is missed, what is marked by hand as well, and each can be
// taken back; marks hang on nothing but the hold and the hand.
func TestHoldsAndMarks(t *testing.T) {
	b := board(t)
	var m Moment
	k := &Marks{}
	see := func(at timeline.Time) []string {
		k.Seen(at)
		b.Look(&m, at, k)
		return names(b, m.Missed)
	}
	require.Empty(t, see(5*sec))
	require.True(t, k.Hold(5500*ms))
	require.Empty(t, see(5600*ms))
	require.True(t, m.Held)
	require.Equal(t, 5500*ms, m.Since)
	require.Equal(t, []string{"Jets 4.1"}, see(5880*ms), "its command falls into the hold")
	require.Equal(t, []string{"Jets 4.1", "Jets 6.1"}, see(10*sec))
	require.False(t, k.Hold(10100*ms))
	require.Equal(t, []string{"Jets 4.1", "Jets 6.1"}, see(14*sec), "what is commanded after the release is not")
	require.False(t, m.Held)
	require.Len(t, b.Fell(k.Holds[0]), 2)

	first := b.ToMiss(14*sec, k)
	require.Equal(t, "3.1", b.ToMiss(4*sec, k).Bar)
	require.Equal(t, "8.1", first.Bar)
	k.Miss(first)
	require.Equal(t, []string{"Jets 4.1", "Jets 6.1", "Jets 8.1"}, see(14*sec))
	for _, want := range []string{"8.1", "6.1", "4.1"} {
		c := b.ToTake(k)
		require.Equal(t, want, c.Bar)
		k.Take(c)
	}
	require.Empty(t, see(14*sec))
	require.Nil(t, b.ToTake(k))
	k.Miss(first)
	require.Equal(t, []string{"Jets 8.1"}, see(14*sec), "and marked again")
	require.Nil(t, b.ToMiss(0, k), "nothing has been commanded yet")
}

// After a hold it goes on at the next marker called so, else at the next section;
// what is commanded before that and hit after it is left out.
func TestReEntry(t *testing.T) {
	b := board(t)
	for _, c := range []struct {
		at   timeline.Time
		want string
		less string
	}{{0, "7.1 Re-entry, drums", ""}, {11999 * ms, "7.1 Re-entry, drums", ""}, {12 * sec, "9.1 Chorus", ", without 1 hit"}, {16 * sec, "", ""}} {
		e := b.Entry(c.at)
		if c.want == "" {
			require.Nil(t, e, "with the next song")
			continue
		}
		require.Equal(t, c.want, e.Bar+" "+e.Name, "at %s", c.at)
		require.Equal(t, c.less, e.Less, "at %s", c.at)
	}
}

// The words of the cues: what, where, and the loads that they use up.
func TestCues(t *testing.T) {
	b := board(t)
	require.Equal(t, "1 Ember", b.Title)
	require.Equal(t, "last song", b.After)
	jet, mine := &b.Cues[0], &b.Cues[4]
	require.Equal(t, "Cold jet, 6 m", jet.What)
	require.Equal(t, "Lip l, Lip r", jet.Where)
	require.Equal(t, "03:00:03:22", jet.Code)
	require.Empty(t, jet.Loads)
	require.Equal(t, []timeline.OutputRef{{Driver: "bank-a", Output: 7}}, mine.Loads)
	var m Moment
	b.Look(&m, 0, &Marks{})
	require.Equal(t, "8.1 Jet arms: arms up again", m.Note.Bar+" "+m.Note.Name+": "+m.Note.Text, "the first note still to come, of an arm")
	b.Look(&m, 14*sec+1, &Marks{})
	require.Equal(t, "9.1 Mines: mines, singer off the lip", m.Note.Bar+" "+m.Note.Name+": "+m.Note.Text)
	b.Look(&m, 20*sec, &Marks{})
	require.Nil(t, m.Note)
}

// Looking again and again makes no garbage.
func TestLookMakesNoGarbage(t *testing.T) {
	b := board(t)
	var m Moment
	k := &Marks{}
	k.Hold(3 * sec)
	at := timeline.Time(0)
	b.Look(&m, 20*sec, k)
	b.Look(&m, 0, k)
	require.Zero(t, testing.AllocsPerRun(100, func() {
		at = (at + 40*ms) % (32 * sec)
		k.Seen(at)
		b.Look(&m, at, k)
	}))
}
