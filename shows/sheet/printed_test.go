package sheet

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/timeline"
)

// makers are all sheets that can be printed.
var makers = []struct {
	name string
	of   func(*timeline.Plan, Filter) (Printed, error)
}{
	{"cue-list", func(p *timeline.Plan, f Filter) (Printed, error) { return NewCueList(p, f) }},
	{"load-plan", func(p *timeline.Plan, f Filter) (Printed, error) { return NewLoadPlan(p, f) }},
	{"patch-sheet", func(p *timeline.Plan, _ Filter) (Printed, error) { return NewPatchSheet(p), nil }},
	{"running-sheet", func(p *timeline.Plan, f Filter) (Printed, error) { return NewRunningSheet(p, f) }},
}

// charged is the small show with explosives, a circuit, a spare comet on two
// outputs, and an effect that nothing is wired to.
func charged(t testing.TB) *timeline.Show {
	t.Helper()
	s, err := small(t).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.Article{Base: base{ID: "comet"}, Name: "comet", Family: timeline.Comet, HitPoint: timeline.FirstLight,
			Control: timeline.IgniterControl, Lead: timeline.FromMillis(40), Open: timeline.FromMillis(1500), SingleUse: true, NEC: 12.1, Division: "1.4G"},
			&timeline.Circuit{Base: base{ID: "k1"}, Name: "circuit 1", Joining: timeline.InSeries, Igniters: 2, Ohms: 1.6, AllFire: 0.5, Cable: 50, Section: 1.5},
			&timeline.Wire{Base: base{ID: "w2"}, Placed: "c1", Unit: "b2", Output: 1, Circuit: "k1"},
			&timeline.Wire{Base: base{ID: "w4"}, Placed: "c1", Unit: "b2", Output: 2},
			&timeline.Placed{Base: base{ID: "c2"}, Name: "comet 2", Article: "comet", Position: "left", Spare: true})
		return nil
	})
	require.NoError(t, err)
	return s
}

func TestPrintedPagesRead(t *testing.T) {
	s := charged(t)
	p := timeline.Compile(s, s.Night("n1"))
	for _, m := range makers {
		made, err := m.of(p, Filter{})
		require.NoError(t, err)
		var text strings.Builder
		for _, page := range made.Sheet().Pages(render.NewFaces(), paper.A4) {
			text.WriteString(paper.Plain(page))
		}
		golden(t, m.name+".page.txt", []byte(text.String()))
	}
}

// Every page carries what tells it from another revision's, and the caution; a
// tour without a night says "not given".
func TestEveryPageCarriesItsHead(t *testing.T) {
	s := charged(t)
	for _, night := range []string{"n1", ""} {
		p := timeline.Compile(s, s.Night(timeline.ID(night)))
		for _, m := range makers {
			made, err := m.of(p, Filter{})
			require.NoError(t, err)
			pages := made.Sheet().Pages(render.NewFaces(), paper.Letter)
			for i, page := range pages {
				text := paper.Plain(page)
				require.Contains(t, text, fmt.Sprintf("page %d of %d", i+1, len(pages)))
				for _, want := range []string{"Test Tour", "revision", "venue", "not permission to fire", "Label, instructions, permit and authority come first",
					"only licensed and competent persons", "marked C, M or J are unverified"} {
					require.Contains(t, strings.Join(strings.Fields(text), " "), want, m.name)
				}
				if night == "" {
					require.Contains(t, text, "not given")
				} else {
					require.Contains(t, text, "2031-05-09")
					require.Contains(t, text, "Lantern Hall")
				}
			}
		}
	}
}

func TestPrintedIsTheSameEachTime(t *testing.T) {
	p := timeline.Compile(charged(t), nil)
	for _, m := range makers {
		write := func(of func(*bytes.Buffer, Printed) error) string {
			made, err := m.of(p, Filter{})
			require.NoError(t, err)
			var b bytes.Buffer
			require.NoError(t, of(&b, made))
			return b.String()
		}
		for _, of := range []func(*bytes.Buffer, Printed) error{
			func(b *bytes.Buffer, s Printed) error { return s.WriteCSV(b) },
			func(b *bytes.Buffer, s Printed) error { return s.WriteJSON(b) },
			func(b *bytes.Buffer, s Printed) error { return WritePDF(b, s, paper.A4) },
			func(b *bytes.Buffer, s Printed) error { return WritePage(b, s, paper.A4, 1) },
		} {
			require.Equal(t, write(of), write(of), m.name)
		}
		made, err := m.of(p, Filter{})
		require.NoError(t, err)
		require.ErrorContains(t, WritePage(&bytes.Buffer{}, made, paper.A4, 99), "there is no page 99")
	}
}

// Cells of every sheet start no formula, and all lines are equally wide.
func TestPrintedCSV(t *testing.T) {
	p := timeline.Compile(charged(t), nil)
	for _, m := range makers {
		made, err := m.of(p, Filter{})
		require.NoError(t, err)
		var b bytes.Buffer
		require.NoError(t, made.WriteCSV(&b))
		lines, err := csv.NewReader(&b).ReadAll()
		require.NoError(t, err, m.name)
		for _, line := range lines {
			for _, cell := range line {
				if r, _ := utf8.DecodeRuneInString(strings.TrimLeft(cell, " ")); cell != "" {
					require.NotContains(t, formulaStarts, string(r), "%s %q", m.name, cell)
				}
			}
		}
	}
}

// randomShow draws a show of pyrotechnics and reusable effects: wired once,
// twice, on a dead bank or not at all, and cues on groups.
func randomShow(t *rapid.T, s *timeline.Show) *timeline.Show {
	out, err := s.Edit(func(d *timeline.Draft) error {
		articles, units := []string{"jet"}, []timeline.ID{}
		for i := range rapid.IntRange(1, 4).Draw(t, "articles") {
			id := timeline.ID(fmt.Sprintf("a%d", i))
			articles = append(articles, string(id))
			d.Put("", &timeline.Article{Base: base{ID: id}, Name: string(id), Family: timeline.Comet, HitPoint: timeline.FirstLight, Control: timeline.IgniterControl,
				SingleUse: rapid.Bool().Draw(t, "single"), NEC: float64(rapid.IntRange(0, 5000).Draw(t, "nec")) / 10,
				Division: rapid.SampledFrom([]string{"", "1.4G", "1.4S", "1.3G"}).Draw(t, "division")})
		}
		article := func() timeline.ID { return timeline.ID(rapid.SampledFrom(articles).Draw(t, "article")) }
		wires := 0
		for i := range rapid.IntRange(1, 12).Draw(t, "placed") {
			id := timeline.ID(fmt.Sprintf("p%d", i))
			units = append(units, id)
			pos := rapid.SampledFrom([]timeline.ID{"", "left"}).Draw(t, "position")
			d.Put("", &timeline.Placed{Base: base{ID: id}, Name: string(id), Article: article(), Position: pos})
			for range rapid.IntRange(0, 2).Draw(t, "wires") {
				wires++
				d.Put("", &timeline.Wire{Base: base{ID: timeline.ID(fmt.Sprintf("x%d", wires))}, Placed: id,
					Unit: rapid.SampledFrom([]timeline.ID{"b1", "b2"}).Draw(t, "bank"), Output: rapid.IntRange(1, 8).Draw(t, "output")})
			}
		}
		d.Put("", &timeline.Group{Base: base{ID: "all"}, Name: "all", Members: units})
		targets := append([]timeline.ID{"all"}, units...)
		for _, song := range []timeline.ID{"ember", "tide"} {
			for i := range rapid.IntRange(0, 10).Draw(t, "cues") {
				c := &timeline.Cue{Base: base{ID: timeline.ID(fmt.Sprintf("z%d", i))}, Lane: "ljet", Target: rapid.SampledFrom(targets).Draw(t, "target"),
					At: timeline.AtTime(timeline.Time(rapid.IntRange(0, 28).Draw(t, "at")) * timeline.Second)}
				if rapid.Bool().Draw(t, "own") {
					c.Article = article()
				}
				d.Put(song, c)
			}
		}
		return nil
	})
	require.NoError(t, err)
	return out
}

// Commands, pieces and NEC are the same on the cue list, counted line by line,
// and on the load plan, by output, by position and in its totals.
func TestTotalsAgreeAcrossSheets(t *testing.T) {
	plain := charged(t)
	rapid.Check(t, func(t *rapid.T) {
		s := randomShow(t, plain)
		f := Filter{Song: rapid.SampledFrom([]timeline.ID{"", "ember", "tide"}).Draw(t, "song")}
		p := timeline.Compile(s, nil)
		list, err := NewCueList(p, f)
		require.NoError(t, err)
		commands, pieces, nec := 0, 0, 0.0
		for _, line := range list.Lines {
			if line.Action != "hit" {
				continue
			}
			commands++
			if a := s.Stock.Article(timeline.ID(line.Article)); a.SingleUse || a.NEC > 0 {
				pieces++
				nec += a.NEC
			}
		}
		same := func(where string, got Totals) {
			require.Equal(t, commands, got.Commands, where)
			require.Equal(t, pieces, got.Pieces, where)
			require.Less(t, math.Abs(nec-got.NEC), 1e-6, where)
			n, g := 0, 0.0
			for _, d := range got.Divisions {
				n, g = n+d.Pieces, g+d.NEC
			}
			require.Equal(t, pieces, n, where)
			require.Less(t, math.Abs(nec-g), 1e-6, where)
		}
		same("cue list", list.Used)
		load, err := NewLoadPlan(p, f)
		require.NoError(t, err)
		same("load plan", load.Used)
		same("outputs", sumOf(load.Groups, func(g LoadGroup) (Totals, []LoadLine) { return g.Used, g.Lines }, t))
		run, err := NewRunningSheet(p, f)
		require.NoError(t, err)
		same("running sheet", run.Used)
		hits := 0
		for _, g := range run.Songs {
			for _, r := range g.Sections {
				hits += r.Commands
			}
		}
		require.Equal(t, commands, hits, "sections")
		same("positions", sumOf(load.Positions, func(g LoadPosition) (Totals, []LoadLine) { return g.Used, g.Lines }, t))
	})
}

// sumOf adds up groups, each of which has to be the sum of its lines.
func sumOf[T any](groups []T, of func(T) (Totals, []LoadLine), t *rapid.T) (all Totals) {
	for _, g := range groups {
		used, lines := of(g)
		var own Totals
		for _, l := range lines {
			own.Commands, own.Pieces, own.NEC = own.Commands+l.Commands, own.Pieces+l.Pieces, own.NEC+l.NEC
		}
		require.Equal(t, own.Commands, used.Commands)
		require.Equal(t, own.Pieces, used.Pieces)
		require.InDelta(t, own.NEC, used.NEC, 1e-6)
		all.Commands, all.Pieces, all.NEC = all.Commands+used.Commands, all.Pieces+used.Pieces, all.NEC+used.NEC
		all.Divisions = append(all.Divisions, used.Divisions...)
	}
	return all
}

// A piece that two outputs drive is loaded once; the ohms are those of igniters
// and cable at 20 °C: 2 × 1.6 + 2 × 50 m × 13.3 Ω/km (IEC 60228, class 5) = 4.53.
func TestLoadPlan(t *testing.T) {
	p := timeline.Compile(charged(t), nil)
	load, err := NewLoadPlan(p, Filter{})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, load.WriteJSON(&b))
	var read struct {
		Groups []struct {
			Name  string
			Dead  bool
			Spare []int `json:"spare_outputs"`
			Lines []struct {
				Output   int
				NEC      float64  `json:"nec_grams"`
				First    string   `json:"first_timecode"`
				Expected *float64 `json:"expected_ohms"`
				State    []string
			}
		}
		Caution string
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &read))
	require.Equal(t, Caution, read.Caution)
	bank := read.Groups[1]
	require.Equal(t, "bank 2", bank.Name)
	require.True(t, bank.Dead)
	require.Equal(t, 14, len(bank.Spare))
	require.Equal(t, 3, bank.Spare[0])
	require.Equal(t, 12.1, bank.Lines[0].NEC)
	require.InDelta(t, 4.53, *bank.Lines[0].Expected, 1e-9)
	require.Equal(t, "01:00:08:05", bank.Lines[0].First) // bar 5.1+1/2 is 8.25 s; less 40 and 10 ms of lead, 8.2 s
	require.Equal(t, []string{"output dead"}, bank.Lines[0].State)
	require.Nil(t, bank.Lines[1].Expected)
	require.Zero(t, bank.Lines[1].NEC)
	require.Contains(t, bank.Lines[1].State, "counted at bank 2 output 1")
}

// The addresses are the published ones of running numbers: 1.45 is 45, 2.1 is
// 513. A declared overlap is a note, another a clash.
func TestPatchSheet(t *testing.T) {
	s, err := charged(t).Edit(func(d *timeline.Draft) error {
		put := func(id timeline.ID, shares []timeline.ID, starts ...timeline.Patch) {
			d.Put("", &timeline.Device{Base: base{ID: id}, Name: string(id), Type: "bar", Starts: starts, Shares: shares})
		}
		put("d2", nil, timeline.Patch{Universe: 2, Slot: 1})
		put("d3", []timeline.ID{"d2"}, timeline.Patch{Universe: 2, Slot: 1})
		put("d4", nil, timeline.Patch{Universe: 2, Slot: 3})
		put("d5", nil)
		put("d6", nil, timeline.Patch{Universe: 3, Slot: 511})
		return nil
	})
	require.NoError(t, err)
	p := NewPatchSheet(timeline.Compile(s, nil))
	require.Len(t, p.Universes, 3)
	one, two, three := p.Universes[0], p.Universes[1], p.Universes[2]
	require.Equal(t, []string{"1.45", "1.47"}, []string{one.Blocks[0].Start, one.Blocks[0].End})
	require.Equal(t, []int{45, 47}, []int{one.Blocks[0].From, one.Blocks[0].To})
	require.Equal(t, PatchSlot{Address: "1.47", Running: 47, DeviceName: "bar 1", Slot: "1.3", Role: "arm", On: "64..127", Off: 7, Serves: "flame 1"}, one.Slots[2])
	require.Equal(t, 509, one.Free)
	require.Equal(t, 1, one.NextFree)
	require.Equal(t, 513, two.Blocks[0].From)
	require.Equal(t, []string{"shared with d3, as declared", "CLASH with d4"}, two.Blocks[0].Notes)
	require.Equal(t, []string{"CLASH: runs past slot 512"}, three.Blocks[0].Notes)
	require.Equal(t, []string{"d5: block 1 has no start address"}, p.Unpatched)
	require.Contains(t, p.DMX, "not appropriate for hazardous applications")
}

// The flame that hits at the start of the chorus is commanded before it, so that
// going on there does without it; bar 1 lies at the start of the audio.
func TestRunningSheet(t *testing.T) {
	s, err := charged(t).Edit(func(d *timeline.Draft) error {
		head := headOf(t, d, "ember")
		head.Audio = timeline.Audio{Path: "audio/ember mix.wav", FileHash: "0123456789abcdef", Rate: 48000, Frames: 48000 * 60}
		d.Put("", head)
		for id, at := range map[timeline.ID]timeline.Time{"verse": 10, "chorus": 20, "bridge": 30} {
			d.Put("ember", &timeline.Section{Base: base{ID: id}, Name: string(id), At: timeline.AtTime(at * timeline.Second)})
		}
		return nil
	})
	require.NoError(t, err)
	run, err := NewRunningSheet(timeline.Compile(s, nil), Filter{})
	require.NoError(t, err)
	g := run.Songs[0]
	require.Equal(t, "ember mix.wav", g.File)
	require.Equal(t, "01234567", g.Hash)
	require.Equal(t, "01:00:00:00", g.BarOne)
	require.Equal(t, "00:59:55:00", g.PreRoll)
	var rows [][4]string
	for _, r := range g.Sections {
		rows = append(rows, [4]string{r.Name, strings.Join(r.Open, "; "), strings.Join(r.Arms, "; "), r.ReEntry})
	}
	require.Equal(t, [][4]string{
		{"start", "", "", "01:00:10:00 verse"},
		{"verse", "", "arm of bar 1 up 01:00:18:00", "01:00:20:00 chorus, without 1 hit"},
		{"chorus", "flame 1 until 01:00:20:16; arm of bar 1 until 01:00:22:01", "arm of bar 1 down 01:00:22:01", "01:00:30:00 bridge"},
		{"bridge", "", "arm of bar 1 up 01:00:40:00", ""},
	}, rows)
	require.Equal(t, 3, g.Sections[0].Commands)
	require.Empty(t, run.Songs[1].BarOne, "no beat map")
}

func TestJoinNames(t *testing.T) {
	for _, c := range [][2]string{
		{"jet 2|jet 1|jet 3|jet 5", "jet 1–3, 5"}, {"jet 1|flame", "jet 1, flame"}, {"a1|a2", "a1, a2"}, {"jet 01|jet 02", "jet 01, jet 02"},
		{"jet 2|fan 9|jet 3", "jet 2–3, fan 9"}, {"12", "12"}, {"jet 99999999999999999999", "jet 99999999999999999999"},
	} {
		require.Equal(t, c[1], joinNames(strings.Split(c[0], "|")))
	}
}

// headOf gives a copy of a song's record to be changed.
func headOf(t *testing.T, d *timeline.Draft, id timeline.ID) *timeline.SongHead {
	t.Helper()
	g := d.Show().Song(id)
	require.NotNil(t, g)
	head := g.SongHead
	return &head
}

func BenchmarkPrintCueList(b *testing.B) {
	p := timeline.Compile(bigShow(b), nil)
	for b.Loop() {
		l, err := NewCueList(p, Filter{})
		require.NoError(b, err)
		require.NoError(b, WritePDF(&bytes.Buffer{}, l, paper.A4))
	}
}

// bigShow has 25 songs of 1,000 cues.
func bigShow(t testing.TB) *timeline.Show {
	s, err := charged(t).Edit(func(d *timeline.Draft) error {
		set := &timeline.Set{Base: base{ID: "main"}, Name: "main"}
		for i := range 25 {
			id := timeline.ID(fmt.Sprintf("s%02d", i))
			d.Put("", &timeline.SongHead{Base: base{ID: id}, Title: "Song " + string(id), Slug: string(id), Start: timeline.Timecode{H: uint8(i / 3), M: uint8(i % 3 * 20)}, Length: 4 * timeline.Minute})
			d.Put(id, &timeline.Lane{Base: base{ID: "ljet"}, Name: "jets", Target: "j1", Role: timeline.EffectSlot})
			for j := range 1000 {
				d.Put(id, &timeline.Cue{Base: base{ID: timeline.ID(fmt.Sprintf("c%04d", j))}, Lane: "ljet", At: timeline.AtTime(timeline.Time(j) * 240 * timeline.Millisecond)})
			}
			set.Entries = append(set.Entries, timeline.Entry{Song: id})
		}
		d.Put("", set)
		return nil
	})
	require.NoError(t, err)
	return s
}
