package timeline

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write golden files anew")

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), got)
}

func TestCompileGolden(t *testing.T) {
	golden(t, "small.plan", Compile(small(t), nil).Text())
}

// A night cuts, swaps, takes out of the rig and shifts; the tour stays as it
// is.
func TestCompileNight(t *testing.T) {
	s := small(t)
	s, err := s.Edit(func(d *Draft) error {
		d.Put("", &Night{Base: Base{ID: "n1"}, Name: "first night", Slug: "first-night", Set: "main",
			Cuts:  []Cut{{Selector{"family", "comet"}, "low roof"}},
			Swaps: []Swap{{Selector{"family", "propane-flame"}, "jet", "flames banned"}},
			Rig:   []RigChange{{Kind: "placed", ID: "j2", Out: true}, {Kind: "bank", ID: "b1", Out: true}},
			Shifts: []Shift{{Song: "ember", By: FromMillis(120)},
				{Song: "tide", Start: &Timecode{H: 7, M: 30}}}})
		return nil
	})
	require.NoError(t, err)
	before := Compile(s, nil).Text()
	golden(t, "night.plan", Compile(s, s.Night("n1")).Text())
	require.Equal(t, before, Compile(s, nil).Text())
}

// Derived: 25 fps, hit 01:00:42:12, lead 850 ms gives command
// 01:00:41:16 with +10 ms; truncation would give :15.
func TestCommandRoundedToItsFrame(t *testing.T) {
	s := small(t)
	s, err := s.Edit(set("article", "", "jet", "lead", "0.85"), func(d *Draft) error {
		at, err := s.MomentAt(&s.Song("ember").SongHead, Position{Kind: PositionTimecode, TC: Timecode{1, 0, 42, 12}})
		d.Put("ember", &Cue{Base: Base{ID: "q9"}, Lane: "ljet", Target: "j1", At: at})
		return err
	})
	require.NoError(t, err)
	for _, c := range Compile(s, nil).Songs[0].Commands {
		if c.Cue.ID == "q9" {
			require.Equal(t, FromMillis(41630), c.At)
			require.Equal(t, "01:00:41:16", Rate25.Label(c.Frame))
			require.Equal(t, FromMillis(10), c.Residual())
			return
		}
	}
	t.Fatal("the cue has no command")
}

// The residual is never more than half a frame, and arm windows are never
// shortened by rounding.
func TestRoundingInPlans(t *testing.T) {
	s := small(t)
	for _, rate := range Rates() {
		s, err := s.Edit(set("show", "", "show1", "rate", rate.String()))
		require.NoError(t, err)
		for _, song := range Compile(s, nil).Songs {
			for _, c := range song.Commands {
				require.LessOrEqual(t, max(c.Residual(), -c.Residual()), rate.FrameTicks()/2+1, rate.String())
			}
			for _, w := range song.Windows {
				require.LessOrEqual(t, w.UpRounded, w.Up)
				require.GreaterOrEqual(t, w.DownRounded, w.Down)
			}
		}
	}
}

// A hit closes its open time after its frame, on the frame nearest to that: at
// 25 frames a command at 10.015 s goes out at 10.00 and, open for 1.49 s, closes
// at 11.49, which is nearest to 11.48; its exact end, 11.505, would be 11.52.
func TestCloses(t *testing.T) {
	s := small(t)
	d := NewDraft(s)
	d.Put("ember", &Cue{Base: Base{ID: "q9"}, Lane: "ljet", Target: "j1", At: AtTime(FromMillis(10_015) + Compile(s, nil).Songs[0].Commands[0].Lead), Open: FromMillis(1490)})
	found := false
	for _, rate := range Rates() {
		s, err := d.Show().Edit(set("show", "", "show1", "rate", rate.String()))
		require.NoError(t, err)
		p := Compile(s, nil)
		for _, c := range p.Songs[0].Commands {
			require.Equal(t, c.Rounded+c.Open, c.EndRounded())
			away := p.Songs[0].TimeOf(c.Close) - (c.Rounded + c.Open)
			require.LessOrEqual(t, max(away, -away), rate.FrameTicks()/2+1, rate.String())
			if c.Cue.ID == "q9" && rate == Rate25 {
				found = true
				require.Equal(t, "01:00:10:00", rate.Label(c.Frame))
				require.Equal(t, "01:00:11:12", rate.Label(c.Close))
			}
		}
	}
	require.True(t, found)
}

func TestCompilerReusesSongs(t *testing.T) {
	s := small(t)
	c := NewCompiler()
	first := c.Compile(s, nil)
	next, err := s.Edit(set("cue", "ember", "q1", "at", "4.1"))
	require.NoError(t, err)
	second := c.Compile(next, nil)
	require.NotSame(t, first.Songs[0].SongPlan, second.Songs[0].SongPlan)
	require.Same(t, first.Songs[1].SongPlan, second.Songs[1].SongPlan, "the other song is not compiled again")
	require.Equal(t, Compile(next, nil).Text(), second.Text(), "remembering changes nothing")
	rigged, err := next.Edit(set("placed", "", "j1", "name", "jet one"))
	require.NoError(t, err)
	require.NotSame(t, second.Songs[1].SongPlan, c.Compile(rigged, nil).Songs[1].SongPlan)
	one := c.CompileSong(rigged, "tide", nil)
	require.Len(t, one.Songs, 1)
	require.Equal(t, ID("tide"), one.Songs[0].Song.ID)
}

func TestLostCues(t *testing.T) {
	s := small(t)
	d := NewDraft(s)
	d.Put("", &Group{Base: Base{ID: "nobody"}, Name: "nobody"})
	d.Put("", &Placed{Base: Base{ID: "x1"}, Name: "x", Article: "gone"})
	d.Put("tide", &Lane{Base: Base{ID: "lx"}, Target: "x1", Role: EffectSlot}, &Lane{Base: Base{ID: "larm"}, Target: "jets", Role: ArmSlot},
		&Cue{Base: Base{ID: "a"}, Lane: "gone"},
		&Cue{Base: Base{ID: "b"}, Lane: "ljet", Target: "gone"},
		&Cue{Base: Base{ID: "c"}, Lane: "ljet", Target: "nobody"},
		&Cue{Base: Base{ID: "d"}, Lane: "lx"},
		&Cue{Base: Base{ID: "e"}, Lane: "ljet", At: AtBar(BarBeat{Bar: 3})},
		&Cue{Base: Base{ID: "f"}, Lane: "larm"})
	var why []LostReason
	for _, l := range Compile(d.Show(), nil).Songs[1].Lost {
		why = append(why, l.Reason)
	}
	require.Equal(t, []LostReason{LostLane, LostTarget, LostNobody, LostArticle, LostBeats, LostSlot}, why)
}

// Derived: 120 beats a minute in 4/4, hits 0, 2, 4, 4, 8 s:
// longest gap 4 s; busiest 10 s holds 5.
func TestDensityOfFiveHits(t *testing.T) {
	hits := []Time{0, 2 * Second, 4 * Second, 4 * Second, 8 * Second}
	beats := SteadyBeatMap(0, Second/2, Metre{4, 4}, 16)
	gap, after := LongestGap(hits)
	require.Equal(t, []Time{4 * Second, 4 * Second}, []Time{gap, after})
	count, from := Busiest(hits, 10*Second)
	require.Equal(t, 5, count)
	require.Zero(t, from)
	count, from = Busiest(hits, 2*Second)
	require.Equal(t, 3, count)
	require.Equal(t, 2*Second, from)
	require.Equal(t, 5, OnGrid(hits, beats, NewRat(1, 1), FromMillis(45)))
	require.Equal(t, 4, OnGrid([]Time{0, 2 * Second, 4*Second + FromMillis(46), 4*Second - FromMillis(45), 8 * Second}, beats, NewRat(1, 1), FromMillis(45)))
}

// At most two jets are open at once in the small show: a group's command opens
// both.
func TestMostOpen(t *testing.T) {
	n, at := Compile(small(t), nil).Songs[0].MostOpen()
	require.Equal(t, 2, n)
	require.Equal(t, 4*Second-FromMillis(120), at)
}

// Derived, with the share that can be drawn from memory: one show of 24 hits of 1.2 kg draws 28.8 kg; with
// 22.7 kg of which .800 can be drawn at 10 °C (18.16 kg), it is empty after
// hit 15, and with 15 % reserve (15.4 kg) due for a swap after hit 12.
func TestSupplyOfOneShow(t *testing.T) {
	s := small(t)
	d := NewDraft(s)
	jet := *s.Stock.Article("jet")
	jet.UseRate, jet.UseEach = 0, 1.2
	d.Put("", &jet, &Supply{Base: Base{ID: "cyl"}, Name: "cylinder", Fill: 22.7, Units: 1, Usable: 0.8, Reserve: 0.15, Feeds: []ID{"j1"}})
	for i := range 24 {
		d.Put("tide", &Cue{Base: Base{ID: ID("h" + string(rune('a'+i)))}, Lane: "ljet", Target: "j1", At: AtTime(Time(i+2) * Second)})
	}
	show := d.Show()
	one := NewCompiler().CompileSong(show, "tide", nil)
	// the small show's own cue of that song fires jet 1 as well
	sp := one.Supplies()[0]
	require.InDelta(t, 28.8+1.2, sp.Used, 1e-9)
	require.InDelta(t, 18.16, sp.Usable, 1e-9)
	empty, swap := 0, 0
	for i, l := range sp.Levels {
		if l.LeftKg >= 0 {
			empty = i + 1
		}
		if l.LeftKg >= sp.Reserve {
			swap = i + 1
		}
	}
	require.Equal(t, 15, empty)
	require.Equal(t, 12, swap)
}

// A swap to an article of another medium draws nothing from the old supply.
func TestSupplyOfAnotherMedium(t *testing.T) {
	s := small(t)
	require.Positive(t, Compile(s, nil).Supplies()[0].Used)
	s, err := s.Edit(set("article", "", "jet", "medium", "propane"))
	require.NoError(t, err)
	require.Zero(t, Compile(s, nil).Supplies()[0].Used)
}

func TestStandsOpen(t *testing.T) {
	p := Compile(small(t), nil).Songs[0]
	open := p.StandsOpen(20 * Second)
	require.Len(t, open, 2)
	require.Equal(t, ID("q3"), open[0].Command.Cue.ID)
	require.Equal(t, ID("q4"), open[1].Window.Cue.ID)
	require.Empty(t, p.StandsOpen(9*Second), "a comet closes by itself")
}

// A group that names a member twice plays it once: two commands of one cue on
// one unit would be one too many.
func TestGroupNamesAMemberTwice(t *testing.T) {
	s := small(t)
	d := NewDraft(s)
	d.Put("", &Group{Base: Base{ID: "twice"}, Members: []ID{"j1", "j1"}})
	d.Put("ember", &Cue{Base: Base{ID: "tw"}, Lane: "ljet", Target: "twice", At: AtTime(30 * Second)})
	n := 0
	for _, c := range Compile(d.Show(), nil).Songs[0].Commands {
		if c.Cue.ID == "tw" {
			n++
		}
	}
	require.Equal(t, 1, n)
}

// The lead counts the latency of outputs in service; a dead one delays nothing.
func TestLatencyOfDeadOutputs(t *testing.T) {
	slow, quick := &BankType{Latency: 30 * Millisecond}, &BankType{Latency: 10 * Millisecond}
	u := &Unit{Drives: []Drive{{BankType: slow, Dead: true}, {BankType: quick}}}
	require.Equal(t, 10*Millisecond, u.Latency())
	u.Drives[1].Dead = true
	require.Equal(t, 30*Millisecond, u.Latency())
	require.Zero(t, (&Unit{}).Latency())
}

// How long something is open is the cue's word, then the lane's, then the
// article's; a window knows no article.
func TestWhoseOpenTimeCounts(t *testing.T) {
	for _, c := range []struct {
		cue, lane    string
		open, window Time
	}{
		{"0.3", "0.7", FromMillis(300), FromMillis(300)},
		{"0", "0.7", FromMillis(700), FromMillis(700)},
		{"0.3", "0", FromMillis(300), FromMillis(300)},
		{"0", "0", FromMillis(500), 0},
	} {
		s, err := small(t).Edit(set("cue", "ember", "q1", "open", c.cue), set("lane", "ember", "ljet", "open", c.lane),
			set("cue", "ember", "q4", "open", c.cue), set("lane", "ember", "larm", "open", c.lane))
		require.NoError(t, err)
		p := &Compile(s, nil).Songs[0]
		found := 0
		for i := range p.Commands {
			if p.Commands[i].Cue.ID == "q1" {
				require.Equal(t, c.open, p.Commands[i].Open, "%+v", c)
				found++
			}
		}
		require.Equal(t, 2, found, "both jets")
		require.Len(t, p.Asked, 1)
		require.Equal(t, c.window, p.Asked[0].Down-p.Asked[0].Up, "%+v", c)
	}
}

// An arm that is raised again at the instant at which it would be lowered stays up.
func TestWindowsThatTouchAreOne(t *testing.T) {
	for _, c := range []struct {
		second Time
		want   int
	}{{10 * Second, 1}, {10*Second + 2*Rate25.FrameTicks(), 2}, {9 * Second, 1}} {
		s, err := small(t).Edit(set("cue", "ember", "q4", "at", "0:05"), set("cue", "ember", "q4", "open", "5"), func(d *Draft) error {
			d.Put("ember", &Cue{Base: Base{ID: "q9"}, Lane: "larm", At: AtTime(c.second), Open: 10 * Second})
			return nil
		})
		require.NoError(t, err)
		p := &Compile(s, nil).Songs[0]
		require.Len(t, p.Asked, 2)
		require.Len(t, p.Windows, c.want, "the second from %s", c.second)
		last := p.Windows[len(p.Windows)-1]
		require.Equal(t, c.second+10*Second, last.Down)
	}
}

// A zone is closed from the earliest that the effect can come to the latest that it
// is seen: the output's closing and the lead after it, or what hangs.
func TestZone(t *testing.T) {
	a := &Article{Spread: 30 * Millisecond}
	c := &Command{Article: a, At: 850 * Millisecond, Hit: Second, Open: 400 * Millisecond}
	from, to := c.Zone()
	require.Equal(t, 820*Millisecond, from)
	require.Equal(t, 1430*Millisecond, to)
	a.Hang = 3 * Second
	_, to = c.Zone()
	require.Equal(t, 4030*Millisecond, to)
}
