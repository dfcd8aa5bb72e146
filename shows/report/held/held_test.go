package held

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// rig is the small show with its igniter bank in service: a jet on bank 1 output 3,
// a comet on bank 2 output 1, a flame on slot 1.45 with its level on 1.46 and its
// arm on 1.47.
func rig(t testing.TB) *timeline.Plan {
	t.Helper()
	s, err := testshow.Small(t).Edit(func(d *timeline.Draft) error {
		b := *d.Show().Rig.Bank("b2")
		b.Dead, b.Address = false, 7
		d.Put("", &b)
		return nil
	})
	require.NoError(t, err)
	return timeline.Compile(s, nil)
}

func words(t require.TestingT, items ...string) []timeline.DeskWord {
	var list []timeline.DeskWord
	for _, i := range items {
		w, err := timeline.ParseDeskWord(i)
		require.NoError(t, err)
		list = append(list, w)
	}
	return list
}

func compare(t require.TestingT, p *timeline.Plan, song timeline.ID, table string, items ...string) *Report {
	r, err := NewReading(words(t, items...))
	require.NoError(t, err)
	got, err := Compare(p, report.Filter{Song: song}, r, "list.csv", []byte(table))
	require.NoError(t, err)
	bad := map[int]bool{}
	for _, d := range got.Differences {
		if d.Kind == NotRead || d.Kind == NotKnown {
			bad[d.Line] = true
		}
	}
	counted := got.Compared + len(bad)
	for _, n := range got.LeftOut {
		counted += n.Count
	}
	require.Equal(t, got.Read, counted, "each row is counted once")
	return got
}

// what gives the differences in short: kind, line, number of the plan, frames.
func what(r *Report) []string {
	list := []string{}
	for _, d := range r.Differences {
		list = append(list, fmt.Sprintf("%s %d %d %d", d.Kind, d.Line, d.Number, d.Late))
	}
	return list
}

// whole is the list as the plan has it: jet before the song and at bar 3, comet, flame, and two of the second song.
const whole = "Time,Out\n00:59:57:22,bank 1:3\n01:00:03:22,bank 1:3\n01:00:08:06,bank 2:1\n01:00:19:21,1.45\n02:01:00:22,bank 1:3\n"

const mapped = "map timecode=Time|map address=Out"

func TestCompare(t *testing.T) {
	p := rig(t)
	row := func(code, out string) string { return code + "," + out + "\n" }
	cut := func(line int) string {
		lines := strings.SplitAfter(whole, "\n")
		return strings.Join(append(lines[:line-1:line-1], lines[line:]...), "")
	}
	for _, c := range []struct {
		name, table string
		want        []string
	}{
		{"as planned; the comet is a frame late in it", whole, []string{"other frame 4 3 1"}},
		{"a row is missing", cut(3), []string{"other frame 3 3 1", "missing 0 2 0"}},
		{"a row too much", whole + row("01:00:30:00", "bank 1:4"), []string{"extra 7 0 0", "other frame 4 3 1"}},
		{"a row twice", whole + row("01:00:03:22", "bank 1:3"), []string{"extra 7 0 0", "other frame 4 3 1"}},
		{"another address at the right time", strings.Replace(whole, "03:22,bank 1:3", "03:22,bank 1:5", 1), []string{"other address 3 2 0", "other frame 4 3 1"}},
		{"early, and outside the window", strings.Replace(strings.Replace(whole, "03:22", "03:20", 1), "02:01:00:22", "02:01:02:22", 1),
			[]string{"extra 6 0 0", "other frame 3 2 -2", "other frame 4 3 1", "missing 0 8 0"}},
		{"the window's edge is in it", strings.Replace(whole, "03:22", "04:22", 1), []string{"other frame 3 2 25", "other frame 4 3 1"}},
		{"a level's row fits, and none is asked for", whole + row("01:00:19:21", "1.46"), []string{"other frame 4 3 1"}},
		{"addresses in other words", strings.NewReplacer("bank 1:3", "b1/03", "bank 2:1", "7:1", "1.45", "DMX 1.45+46").Replace(whole), []string{"other frame 4 3 1"}},
		{"several addresses in one row", strings.Replace(whole, "1.45", "DMX 1.45 + DMX 1.46", 1), []string{"other frame 4 3 1"}},
		{"a row with a level that is late is told once", strings.Replace(whole, "19:21,1.45", "19:24,1.45 + 1.46", 1), []string{"other frame 4 3 1", "other frame 5 5 3"}},
		{"a row with several addresses is too much once", whole + row("01:00:30:00", "bank 1:4 + bank 1:5"), []string{"extra 7 0 0", "other frame 4 3 1"}},
		{"what is not known stands where the plan has it", strings.Replace(whole, "bank 2:1", "F-07", 1), []string{"missing 0 3 0", "address not known 4 0 0"}},
		{"and is no missing row", strings.Replace(strings.Replace(whole, "bank 2:1", "F-07", 1), "08:06", "08:05", 1), []string{"address not known 4 3 0"}},
		{"rows that cannot be read", strings.Replace(strings.Replace(whole, "08:06", "08:99", 1), "03:22", "3.5", 1), []string{"missing 0 2 0", "missing 0 3 0", "not read 3 0 0", "not read 4 0 0"}},
		{"outputs that a bank has not", strings.Replace(whole, "03:22,bank 1:3", "03:22,bank 1:9", 1), []string{"other frame 4 3 1", "address not known 3 2 0"}},
		{"a row without a time or an address", whole + ",bank 1:3\n01:00:20:00,\n,\"pause, then\"\n", []string{"other frame 4 3 1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, what(compare(t, p, "", c.table, strings.Split(mapped, "|")...)))
		})
	}
}

// A time by which all rows are off is said once, also one of a single song; the rest
// is compared as if it were not.
func TestOffsets(t *testing.T) {
	p := rig(t)
	moved := strings.NewReplacer("00:59:57", "10:59:57", "01:00", "11:00", "02:01", "12:01").Replace(whole)
	r := compare(t, p, "", moved, strings.Split(mapped, "|")...)
	require.Equal(t, []string{"other frame 4 3 1"}, what(r))
	require.Len(t, r.Offsets, 1)
	require.Equal(t, int64(10*3600*25), r.Offsets[0].Frames)
	require.Equal(t, 4, r.Offsets[0].Rows)
	require.False(t, r.Same())
	require.Equal(t, `the whole list is 900,000 frames or 10:00:00.0 of the clock later in the list (4 rows stand just so far off): it is compared as if it were not`, r.Whole()[0])

	one := strings.NewReplacer("00:59:57", "04:59:57", "\n01:00", "\n05:00").Replace(whole)
	r = compare(t, p, "", one, strings.Split(mapped, "|")...)
	require.Equal(t, []string{"other frame 4 3 1"}, what(r))
	require.Equal(t, int64(4*3600*25), r.Offsets[0].Frames, "the first song; one row proves none of the second")

	two := "Time,Out\n01:30:57:22,bank 1:3\n01:31:03:22,bank 1:3\n02:01:00:22,bank 1:3\n"
	r = compare(t, p, "", two, strings.Split(mapped, "|")...)
	require.Empty(t, r.Offsets, "two rows of four")
}

func TestOrder(t *testing.T) {
	s, err := rig(t).Show.Edit(func(d *timeline.Draft) error {
		d.Put("ember", &timeline.Cue{Base: timeline.Base{ID: "q7"}, Lane: "lcom", At: timeline.AtTime(timeline.FromMillis(4000 - 60))}, // commanded 10 ms after the jet, in its frame
			&timeline.Cue{Base: timeline.Base{ID: "q8"}, Lane: "lcom", At: timeline.AtTime(timeline.FromMillis(30000))})
		return nil
	})
	require.NoError(t, err)
	p := timeline.Compile(s, nil)
	head := "Time,Out,No\n"
	rows := []string{"01:00:03:22,bank 1:3,1\n", "01:00:03:22,bank 2:1,2\n", "01:00:19:21,1.45,4\n", "01:00:29:24,bank 2:1,5\n"}
	kinds := func(table string, more ...string) (n int, order string) {
		r := compare(t, p, "ember", table, append(strings.Split(mapped, "|"), more...)...)
		return len(r.Of(OtherOrder)), r.Order
	}
	for _, c := range []struct {
		name, table string
		more        []string
		n           int
		order       string
	}{
		{"as planned", head + strings.Join(rows, ""), nil, 0, "by the lines"},
		{"two of one frame stand the other way", head + rows[1] + rows[0] + rows[2] + rows[3], nil, 1, "by the lines"},
		{"the list is by address", head + rows[0] + rows[3] + rows[1] + rows[2], nil, 0, "not compared"},
		{"numbers count, wherever the rows stand", head + rows[3] + rows[1] + rows[0] + rows[2], []string{"map number=No"}, 0, "by the numbers"},
		{"a number is another", head + rows[0] + rows[1] + strings.Replace(rows[2], ",4", ",6", 1) + rows[3], []string{"map number=No"}, 1, "by the numbers"},
		{"10 comes after 9", head + strings.Replace(rows[0], ",1\n", ",9\n", 1) + strings.Replace(rows[1], ",2\n", ",10\n", 1), []string{"map number=No"}, 0, "by the numbers"},
	} {
		t.Run(c.name, func(t *testing.T) {
			n, order := kinds(c.table, c.more...)
			require.Equal(t, c.n, n)
			require.Contains(t, order, c.order)
		})
	}
}

func TestReadings(t *testing.T) {
	p := rig(t)
	for _, c := range []struct {
		name, table string
		items       []string
		want        []string
	}{
		{"names mean others, one by one and by pattern", "T;Pin;Do\n01:00:03.22;A-03;Fire\n01:00:08:05;Z;Fire\n1:00:19:21;u1s045;FIRE\n",
			[]string{"map timecode=T", "map address=Pin", "map action=Do", `means "A-{n}"="bank 1:{n}"`, `means Z="bank 2:1"`, "means u{u}s{n}={u}.{n}", "means fire=hit"}, []string{"missing 0 1 0"}},
		{"text in a pattern", "timecode,address\n01:00:03:22,Module bank 1 / 03\n", []string{`means "Module {name} / {n}"={name}:{n}`}, []string{"missing 0 1 0", "missing 0 3 0", "missing 0 5 0"}},
		{"bank and output apart", "timecode,bank,output\n01:00:03:22,bank 1,3\n01:00:08:05,7,1\n", nil, []string{"missing 0 1 0", "missing 0 5 0"}},
		{"universe and slot apart", "timecode,universe,slot\n01:00:19:21,1,45\n", nil, []string{"missing 0 1 0", "missing 0 2 0", "missing 0 3 0"}},
		{"a clock with decimals", "clock,address\n01:00:03.880,bank 1:3\n01:00:08.2,7:1\n", nil, []string{"missing 0 1 0", "missing 0 5 0"}},
		{"only some rows", "timecode,address,Kind\n01:00:03:22,bank 1:3,fire\n01:00:04:22,bank 1:4,light\n", []string{"only Kind=fire"}, []string{"missing 0 1 0", "missing 0 3 0", "missing 0 5 0"}},
		{"times of hits", "timecode,address\n00:59:58:00,bank 1:3\n01:00:04:00,bank 1:3\n01:00:08:06,7:1\n01:00:20:00,1.45\n", []string{"times=hits"}, []string{}},
		{"arms where the list has them", "timecode,address,action\n00:59:57:22,bank 1:3,\n01:00:03:22,bank 1:3,hit\n01:00:08:05,7:1,hit\n01:00:18:00,1.47,arm up\n01:00:19:21,1.45,hit\n", nil, []string{"missing 0 7 0"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, what(compare(t, p, "ember", c.table, c.items...)))
		})
	}
	r := compare(t, p, "ember", "song,seconds,address\nember,before 2.12,bank 1:3\n1,3.88,bank 1:3\nember,0:08.2,7:1\nTide,0.88,bank 1:3\nNobody,1,bank 1:3\n")
	require.Equal(t, []string{"missing 0 5 0", "not read 6 0 0"}, what(r))
	require.Equal(t, []Count{{Why: notChosen, Count: 1, Lines: []int{5}}}, r.LeftOut)
}

// What is wrong with the list as a whole, or with what is said of it, is said with
// what would be right.
func TestRefused(t *testing.T) {
	p := rig(t)
	for _, c := range []struct{ table, items, want string }{
		{"a,b\n1,2\n", "", "no column says when; map timecode, clock, seconds; the table has \"a\", \"b\""},
		{"timecode,b\n1,2\n", "", "no column says which output; map address, bank+output, universe+slot"},
		{"timecode,clock,address\n", "", "timecode and clock each say when; map the one that counts"},
		{"timecode,bank\n", "map bank=bank", "bank and output go together"},
		{"seconds,address\n", "", "no column names it; map song as well"},
		{"timecode,address\n", "map colour=x", "\"colour\" is nothing that a row of a list has"},
		{"timecode,address\n", "map timecode=Zeit", "no line names the columns Zeit"},
		{"timecode,address\n", "only Kind=x", "no column is called \"Kind\""},
		{"timecode,address\n", "times=sometimes", "write commands or hits"},
		{"timecode,address\n", "names-line=0", "write the number of a line"},
		{"timecode,address\n", "separator=ab", "must be one character"},
		{"timecode,address\n", "means {n}-{n}=a:{n}", "stands twice"},
		{"timecode,address\n", "means A-{n}=a:{m}", "{m} stands in"},
		{"", "", "the table is empty"},
	} {
		var items []string
		if c.items != "" {
			items = []string{c.items}
		}
		r, err := NewReading(words(t, items...))
		if err == nil {
			_, err = Compare(p, report.Filter{}, r, "list.csv", []byte(c.table))
		}
		require.ErrorContains(t, err, c.want, c.table+c.items)
	}
}

func TestText(t *testing.T) {
	p := rig(t)
	r := compare(t, p, "", strings.Replace(strings.Replace(whole, "08:06,bank 2:1", "08:05,F-07", 1), "03:22,bank 1:3", "03:22,bank 1:5", 1)+"01:00:41:00,bank 1:3\n", strings.Split(mapped, "|")...)
	var b strings.Builder
	require.NoError(t, r.WriteText(&b))
	require.Equal(t, `line 3: other address: "bank 1:5", bank 1 output 5, at 01:00:03:22, where the plan has bank 1 output 3 (jet 1, song 1, bar 3.1)
line 7: extra: "bank 1:3", bank 1 output 3, at 01:00:41:00: the plan has nothing there then; song 1
line 4: address not known: "F-07" at 01:00:08:05: names no address: write a bank and its output such as IGN 1:7, or universe.slot such as 1.45; the plan has bank 2 output 1 then: --means "F-07=bank 2:1"
3 differences in 5 rows against 5 commands: 1 other address, 1 extra, 1 address not known
read: 6 rows of list.csv
order: compared at each frame, by the lines of the list
what was not compared: arm up, for which the list has no action: 2; slots of levels (a row of one is taken where it fits): 1; arm down, for which the list has no action: 1; how long an output is open, how high an effect is, and what the desk does beside this list
`+report.CautionLine+"\n", b.String())

	b.Reset()
	r = compare(t, p, "", strings.Replace(whole, "08:06", "08:05", 1), strings.Split(mapped, "|")...)
	require.True(t, r.Same())
	require.NoError(t, r.WriteText(&b))
	require.Contains(t, b.String(), "no difference was found in 5 rows against 5 commands\n")
	require.Contains(t, b.String(), "what was not compared: ")
	for _, word := range []string{"safe", "ready", "all right", "ok", "correct"} {
		require.NotContains(t, strings.Fields(b.String()), word)
	}

	b.Reset()
	r = compare(t, p, "", "Time,Out\n", strings.Split(mapped, "|")...)
	require.NoError(t, r.WriteText(&b))
	require.Contains(t, b.String(), `song 1 "Ember, slowly": the list has no row of its 4 commands`)
	require.Contains(t, b.String(), "  2 more of 5: missing in songs 1–2 (--each: a line for each)\n")
	b.Reset()
	require.NoError(t, r.WriteEach(&b))
	require.Equal(t, 5, strings.Count(b.String(), "missing: "))
}

// A row goes to a command of its own bank before it goes to another that is due at
// the same frame.
func TestOtherAddressPrefersItsBank(t *testing.T) {
	s, err := rig(t).Show.Edit(func(d *timeline.Draft) error {
		d.Put("ember", &timeline.Cue{Base: timeline.Base{ID: "q7"}, Lane: "lcom", At: timeline.AtTime(timeline.FromMillis(4000 - 60))})
		return nil
	})
	require.NoError(t, err)
	r := compare(t, timeline.Compile(s, nil), "ember", "timecode,address\n00:59:57:22,bank 1:3\n01:00:03:22,bank 2:5\n01:00:08:05,7:1\n01:00:19:21,1.45\n")
	require.Equal(t, []string{"other address 3 3 0", "missing 0 2 0"}, what(r))
	require.Equal(t, "bank 2 output 1", r.Differences[0].Output)
}

// What is on an output out of service is neither asked for nor too much, and is said
// not to be compared; where another bank of the same address is in service, the row
// is asked for.
func TestOutOfService(t *testing.T) {
	s := testshow.Small(t) // bank 2 is dead
	list := "timecode,address\n00:59:57:22,bank 1:3\n01:00:03:22,bank 1:3\n01:00:19:21,1.45\n"
	for _, table := range []string{list, list + "01:00:08:05,bank 2:1\n"} {
		r := compare(t, timeline.Compile(s, nil), "ember", table)
		require.Empty(t, r.Differences)
		require.Contains(t, r.NotCompared, Count{Why: "commands on outputs that are out of service", Count: 1})
		require.Equal(t, 3, r.Commands)
	}
	s, err := s.Edit(func(d *timeline.Draft) error {
		b := *d.Show().Rig.Bank("b2")
		b.Address = 7
		twin := b
		twin.ID, twin.Name, twin.Dead = "b3", "bank 3", false
		d.Put("", &b, &twin, &timeline.Placed{Base: timeline.Base{ID: "c3"}, Name: "comet 3", Article: "comet"},
			&timeline.Wire{Base: timeline.Base{ID: "w9"}, Placed: "c3", Driver: "b3", Output: 1, Together: true})
		d.Put("ember", &timeline.Lane{Base: timeline.Base{ID: "lc3"}, Name: "comet 3", Target: "c3", Role: timeline.EffectSlot},
			&timeline.Cue{Base: timeline.Base{ID: "q9"}, Lane: "lc3", At: timeline.AtBar(timeline.BarBeat{Bar: 5, Beat: timeline.NewRat(1, 2)})})
		return nil
	})
	require.NoError(t, err)
	require.Equal(t, []string{"missing 0 3 0"}, what(compare(t, timeline.Compile(s, nil), "ember", list)))
	require.Empty(t, compare(t, timeline.Compile(s, nil), "ember", list+"01:00:08:05,bank 3:1\n").Differences)
}

// A row that is of two songs counts as compared where one of them is chosen.
func TestRowOfTwoSongsIsCountedOnce(t *testing.T) {
	s, err := rig(t).Show.Edit(func(d *timeline.Draft) error {
		h := d.Show().Song("tide").SongHead
		h.Start = timeline.Timecode{H: 1}
		d.Put("", &h)
		d.Put("tide", &timeline.Cue{Base: timeline.Base{ID: "q1"}, Lane: "ljet", At: timeline.AtTime(timeline.FromMillis(8370))})
		return nil
	})
	require.NoError(t, err)
	r := compare(t, timeline.Compile(s, nil), "ember", "timecode,address\n00:59:57:22,bank 1:3\n01:00:03:22,bank 1:3\n01:00:08:05,bank 2:1 + bank 1:3\n01:00:19:21,1.45\n")
	require.Equal(t, 4, r.Compared)
	require.Empty(t, r.LeftOut)
}

// Of two offsets that as many rows prove the nearer counts, of two as near the
// earlier: the same each time.
func TestOffsetsAreTheSameEachTime(t *testing.T) {
	list := "timecode,address\n"
	for _, row := range []string{"bank 1:3 00:59:57 01:00:03", "bank 2:1 01:00:08", "1.45 01:00:19"} {
		for i, part := range strings.Fields(strings.Replace(row, "bank ", "bank-", 1)) {
			if i == 0 {
				row = strings.Replace(part, "-", " ", 1)
				continue
			}
			frames := map[string]int{"00:59:57": 22, "01:00:03": 22, "01:00:08": 5, "01:00:19": 21}[part]
			for _, minute := range []int{-10, 10} {
				hour, at := part[:2], 0
				_, err := fmt.Sscanf(part[3:5], "%d", &at)
				require.NoError(t, err)
				if at += minute; at < 0 {
					hour, at = "00", at+60
				} else if at > 59 {
					hour, at = "01", at-60
				}
				list += fmt.Sprintf("%s:%02d%s:%02d,%s\n", hour, at, part[5:], frames, row)
			}
		}
	}
	for range 20 {
		r := compare(t, rig(t), "ember", list)
		require.Len(t, r.Offsets, 1, list)
		require.Equal(t, int64(-10*60*25), r.Offsets[0].Frames)
	}
}

// What is said now takes the place of what is remembered of the same thing, in its
// place, since of patterns the first that fits counts.
func TestOver(t *testing.T) {
	remembered := words(t, "map timecode=Time", "means A-{n}=a:{n}", "times=hits")
	now := words(t, "times=commands", "map timecode=TC", "means a-{n}=b:{n}", "only Kind=x")
	require.Equal(t, words(t, "map timecode=TC", "means a-{n}=b:{n}", "times=commands", "only Kind=x"), Over(remembered, now))
	require.Equal(t, words(t, "map timecode=Time", "means A-{n}=a:{n}", "times=hits"), remembered)
	require.Equal(t, "29.97df", RateOf(words(t, "times=hits", "rate=29.97df")))
	require.Empty(t, RateOf(remembered))
}
