package rule

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// The night begins at 22:00: song A from then on, song B a minute later. Jets
// have no lead and are open for 1.5 s.
func TestQuiet(t *testing.T) {
	quiet := func(items string, more ...timeline.Edit) []timeline.Edit {
		return append(edits(field("venue", "v", "quiet-windows", items), field("night", "n", "begins", "22:00"), showSetting("quiet", func(s *timeline.Setting) { s.Values = []string{"slack=0"} })), more...)
	}
	chorus := func(d *timeline.Draft) error {
		d.Put("a", &timeline.Section{Base: base{ID: "c1"}, Name: "Chorus", At: timeline.AtTime(20 * sec)}, &timeline.Section{Base: base{ID: "v2"}, Name: "Verse", At: timeline.AtTime(30 * sec)},
			&timeline.Section{Base: base{ID: "c2"}, Name: "chorus", At: timeline.AtTime(40 * sec), To: timeline.AtTime(45 * sec)})
		return nil
	}
	runNight(t, "quiet", []nightCase{
		{"in the window", quiet("late from=22:01 to=22:30", cue("b", "j1", 0)), []string{`venue:v: 1 command of jet in the window "late", 22:01 to 22:30: the first hits at about 22:01:00`}},
		{"before it", quiet("late from=22:01 to=22:30", cue("a", "j1", 58*sec)), nil},
		{"open as it begins", quiet("late from=22:01 to=22:30", cue("a", "j1", 59*sec)), []string{"venue:v: 1 command of jet"}},
		{"as it ends", quiet("late from=21:00 to=22:01", cue("b", "j1", 0)), nil},
		{"a moment before it ends", quiet("late from=21:00 to=22:01", cue("b", "j1", -timeline.EntryStep)), []string{"venue:v"}},
		{"another family", quiet("late from=22:00 to=23:00 families=report", cue("a", "j1", sec)), nil},
		{"that family", quiet("late from=22:00 to=23:00 families=report,mine", cue("a", "bang", sec), cue("b", "bang", sec), cue("a", "j1", sec)), []string{"venue:v: 2 commands of bang"}},
		{"over midnight", quiet("night from=23:59 to=06:00", field("night", "n", "begins", "23:58"), cue("b", "j1", sec)), []string{"venue:v: the first hits at about 23:59:01"}},
		{"after midnight", quiet("night from=00:00 to=06:00", field("night", "n", "begins", "23:59"), cue("b", "j1", sec)), []string{"venue:v: the first hits at about 0:01"}},
		{"just before", quiet("night from=00:00 to=06:00", field("night", "n", "begins", "23:59"), cue("a", "j1", 58*sec)), nil},
		{"a song", quiet("dark song=a", cue("a", "j1", sec), cue("b", "j2", sec)), []string{`venue:v: 1 command of jet in the window "dark"`}},
		{"sections of a name", quiet("dark song=a section=Chorus", chorus, cue("a", "j1", 20*sec), cue("a", "j1", 31*sec), cue("a", "j1", 44*sec)), []string{"venue:v: 2 commands of jet"}},
		{"between them", quiet("dark song=a section=Chorus", chorus, cue("a", "j1", 18*sec), cue("a", "j1", 30*sec), cue("a", "j1", 45*sec)), nil},
		{"nobody says when the night begins", quiet("late from=22:01 to=22:30", field("night", "n", "begins", ""), cue("b", "j1", 0)), nil},
	})
	slack := func(at timeline.Time) []timeline.Edit {
		return edits(field("venue", "v", "quiet-windows", "late from=22:06 to=22:30"), field("night", "n", "begins", "22:00"), cue("b", "j1", at))
	}
	runNight(t, "quiet", []nightCase{
		{"five minutes before, by our judgement", slack(0), []string{"venue:v"}},
		{"a little more", slack(-ms(1500) - timeline.EntryStep), nil},
	})
	runNight(t, "not-checked", []nightCase{
		{"nobody says when the night begins", edits(field("venue", "v", "quiet-windows", "late from=22:01 to=22:30")), []string{"venue:v: hour at which the night begins (quiet)"}},
	})
	for text, want := range map[string]string{
		"late from=22:00":                 "gives only one time of day",
		"late":                            "says not when",
		"late from=25:00 to=26:00":        "must be a time of day such as 22:30",
		"late from=22:0 to=23:00":         "must be a time of day",
		"late section=x from=1:00 to=2:0": "must be a time of day",
		"late section=x":                  "says not when",
		"late song=a from=1:00 to=2:00":   "names times of day and a song",
		"late song=a families=noise":      "noise",
	} {
		_, err := timeline.ParseQuietWindow(text)
		require.ErrorContains(t, err, want, text)
	}
}

// Windows against looking at every command and every minute of three days.
func TestQuietEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		minute := func(name string) int { return rapid.IntRange(0, 24*60-1).Draw(rt, name) }
		clock := func(m int) string { return fmt.Sprintf("%02d:%02d", m/60, m%60) }
		begins, from, to := minute("begins"), minute("from"), minute("to")
		families := rapid.SampledFrom([]string{"", " families=report", " families=co2-jet,report"}).Draw(rt, "families")
		list := edits(put(&timeline.Venue{Base: base{ID: "v"}, Slug: "v"}, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v", Begins: clock(begins)}),
			field("venue", "v", "quiet-windows", "w from="+clock(from)+" to="+clock(to)+families), showSetting("quiet", func(s *timeline.Setting) { s.Values = []string{"slack=60"} }),
			field("song", "a", "frames", fmt.Sprint(48000*60*rapid.IntRange(1, 600).Draw(rt, "long"))))
		for i := range rapid.IntRange(0, 6).Draw(rt, "cues") {
			list = append(list, cue(rapid.SampledFrom([]timeline.ID{"a", "b"}).Draw(rt, "song"), rapid.SampledFrom([]timeline.ID{"j1", "bang"}).Draw(rt, "lane"), timeline.Time(60*i+7)*sec))
		}
		s := stage(t, list...)
		p := timeline.Compile(s, s.Night("n"))
		end := to
		if end <= from {
			end += 24 * 60
		}
		want := map[string]int{}
		for i := range p.Songs {
			for k := range p.Songs[i].Commands {
				c := &p.Songs[i].Commands[k]
				if families == " families=report" && c.Article.ID != "bang" {
					continue
				}
				for day := -1; day <= 2; day++ {
					a := timeline.Time(from+day*24*60-1) * timeline.Minute
					b := timeline.Time(end+day*24*60+1) * timeline.Minute
					at := timeline.Time(begins)*timeline.Minute + p.Songs[i].At + c.At
					if at < b && at+c.Open >= a {
						want[string(c.Article.ID)]++
						break
					}
				}
			}
		}
		got := map[string]int{}
		for _, f := range ofRule("quiet", Check(p, Facts{})) {
			n := 0
			fmt.Sscan(f.Values[2].Text, &n)
			got[string(f.Others[0].ID)] += n
		}
		require.Equal(rt, want, got)
	})
}

func TestLeftOpen(t *testing.T) {
	verse := func(d *timeline.Draft) error {
		d.Put("a", &timeline.Section{Base: base{ID: "v"}, Name: "Verse", At: timeline.AtTime(20 * sec)}, &timeline.Section{Base: base{ID: "c"}, Name: "Chorus", At: timeline.AtTime(40 * sec)})
		return nil
	}
	runCases(t, "left-open", []ruleCase{
		{"nothing", edits(verse), nil},
		{"a short one", edits(verse, cue("a", "j1", 25*sec, 2*sec-timeline.EntryStep)), nil},
		{"a sustained one", edits(verse, cue("a", "j1", 25*sec, 2*sec)), []string{"song:a: something stays open if timecode stops: Verse (1 output)"}},
		{"over two sections", edits(verse, cue("a", "jets", 39*sec, 2*sec)), []string{"song:a: Verse (2 outputs), Chorus (2 outputs)"}},
		{"until the next begins", edits(verse, cue("a", "jets", 38*sec, 2*sec)), []string{"song:a: something stays open if timecode stops: Verse (2 outputs)"}},
		{"an arm and a fan", edits(verse, cue("a", "arm", 5*sec, 16*sec), cue("a", "fan", 25*sec, sec)), []string{"song:a: before the sections (1 arm), Verse (1 arm, 1 condition)"}},
		{"never lowered", edits(verse, cue("a", "arm", 25*sec)), []string{"song:a: Verse (1 arm), Chorus (1 arm)"}},
		{"what an igniter fires closes by itself", edits(verse, cue("a", "c1", 25*sec, 5*sec)), nil},
		{"a time of one's own", edits(verse, showSetting("left-open", func(s *timeline.Setting) { s.Values = []string{"least=1"} }), cue("a", "j1", 25*sec)), []string{"song:a: Verse (1 output)"}},
		{"a song without sections", edits(cue("b", "arm", sec, sec)), []string{"song:b: before the sections (1 arm)"}},
	})
}

// The flames of the stage reach 5 m; the zone's edge is 4 m away.
func TestArmInClearZone(t *testing.T) {
	at := func(x string) []timeline.Edit {
		return edits(put(&timeline.StagePosition{Base: base{ID: "p"}}), field("position", "p", "x", x), field("placed", "f1", "position", "p"), field("article", "flame", "clear", "5"))
	}
	zone := func(item string, more ...timeline.Edit) []timeline.Edit {
		return append(append(at("5"), field("venue", "v", "clear-zones", item)), more...)
	}
	arm := cue("a", "arm", 10*sec, 20*sec)
	clone := func(start, x string, armSlot ...int) []timeline.Edit { // another bar that may overlap the first, with a flame that stands at x
		typ := timeline.ID("bar")
		list := []timeline.Edit{}
		if len(armSlot) > 0 { // one whose arm slot is its first
			typ = "arm-first"
			list = append(list, put(&timeline.DeviceType{Base: base{ID: typ}, Slots: []timeline.Slot{{Block: 1, Number: armSlot[0], Role: timeline.ArmSlot, From: 64, To: 127}, {Block: 1, Number: armSlot[0] + 50, Role: timeline.EffectSlot, Head: 1, From: 255, To: 255}}}))
		}
		return append(list, put(&timeline.Device{Base: base{ID: "bar2"}, Name: "bar 2", Type: typ, Shares: []timeline.ID{"bar1"}}, &timeline.StagePosition{Base: base{ID: "p9"}},
			&timeline.Placed{Base: base{ID: "f9"}, Name: "f9", Article: "flame", Position: "p9"}, &timeline.Wire{Base: base{ID: "w-f9"}, Placed: "f9", Driver: "bar2", Output: 1}),
			field("device", "bar2", "starts", start), field("position", "p9", "x", x))
	}
	runNight(t, "arm-in-clear-zone", []nightCase{
		{"always", zone("stairs at=0,0 radius=1", arm), []string{`cue:a/a-arm-10000: bar 1: arm is up, and flame of f1 reaches clear zone "stairs": 4 m away, needs 5 m`}},
		{"just out of reach", append(zone("stairs at=0,0 radius=1", arm), field("position", "p", "x", "6")), nil},
		{"by fallout", append(zone("stairs at=0,0 radius=1", arm), field("position", "p", "x", "6"), field("article", "flame", "fallout", "5.1")), []string{"cue:a/a-arm-10000"}},
		{"in another song", zone("stairs at=0,0 radius=1 song=b", arm), nil},
		{"before the arm is up", zone("stairs at=0,0 radius=1 song=a from=0 to=9.9", arm), nil},
		{"as it comes up", zone("stairs at=0,0 radius=1 song=a from=0 to=10", arm), []string{"cue:a/a-arm-10000"}},
		{"as it comes down", zone("stairs at=0,0 radius=1 song=a from=30 to=40", arm), []string{"cue:a/a-arm-10000"}},
		{"after it is down", zone("stairs at=0,0 radius=1 song=a from=30.1 to=40", arm), nil},
		{"never lowered", zone("stairs at=0,0 radius=1 song=a from=50 to=55", cue("a", "arm", 10*sec)), []string{"cue:a/a-arm-10000"}},
		{"nothing armed", zone("stairs at=0,0 radius=1", cue("a", "f1", 10*sec)), nil},
		{"a fan is no arm", zone("stairs at=0,0 radius=1", cue("a", "fan", 10*sec, sec)), nil},
		{"a mark with a time", append(at("5"), field("venue", "v", "performers", "singer at=0,0 radius=1 song=a from=10 to=12"), arm), []string{`cue:a/a-arm-10000: performer's mark "singer"`}},
		{"a mark that counts always is another rule's", append(at("5"), field("venue", "v", "performers", "singer at=0,0 radius=1"), arm), nil},
		{"dead", zone("stairs at=0,0 radius=1", arm, field("device", "bar1", "dead", "true")), nil},
		{"a clone at the same address", append(zone("stairs at=0,0 radius=1", arm, field("position", "p", "x", "40")), clone("1.10", "4")...), []string{`cue:a/a-arm-10000: bar 1: arm is up, and flame of f9 reaches clear zone "stairs": 3 m away, needs 5 m; bar 2 hears the same arm as bar 1`}},
		{"a clone elsewhere", append(zone("stairs at=0,0 radius=1", arm, field("position", "p", "x", "40")), clone("1.10", "40")...), nil},
		{"another device beside it", append(zone("stairs at=0,0 radius=1", arm, field("position", "p", "x", "40")), clone("1.100", "4")...), nil},
		{"the nearest of both", append(zone("stairs at=0,0 radius=1", arm), clone("1.10", "4")...), []string{`cue:a/a-arm-10000: flame of f9`}},
		{"its arm slot alone is shared", append(zone("stairs at=0,0 radius=1", arm, field("position", "p", "x", "40")), clone("1.12", "4", 1)...), []string{`cue:a/a-arm-10000: bar 2 hears the same arm as bar 1`}},
		{"a dead clone", append(zone("stairs at=0,0 radius=1", arm, field("position", "p", "x", "40")), append(clone("1.10", "4"), field("device", "bar2", "dead", "true"))...), nil},
		{"out of the night's rig", zone("stairs at=0,0 radius=1", arm, field("night", "n", "rig-changes", "placed=f1 out;placed=f2 out")), nil},
	})
}

// Arms against every window, unit and zone one by one.
func TestArmInClearZoneEqualsItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := func(most int, name string) int { return rapid.IntRange(0, most).Draw(rt, name) }
		v := &timeline.Venue{Base: base{ID: "v"}, Slug: "v"}
		for i := range n(3, "zones") {
			m := timeline.PlanMark{Name: fmt.Sprint("z", i), At: timeline.Point{X: float64(n(10, "x"))}, Radius: float64(n(2, "radius"))}
			if rapid.Bool().Draw(rt, "in a song") {
				m.Song, m.From = rapid.SampledFrom([]timeline.ID{"a", "b"}).Draw(rt, "song"), timeline.Time(n(40, "from"))*sec
				m.To = m.From + timeline.Time(1+n(10, "long"))*sec
			}
			v.Clear = append(v.Clear, m)
		}
		list := edits(put(v, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v"}), field("article", "flame", "clear", fmt.Sprint(n(5, "clear"))))
		for _, id := range []timeline.ID{"f1", "f2"} {
			list = append(list, put(&timeline.StagePosition{Base: base{ID: "p-" + id}, X: float64(n(10, "stands"))}), field("placed", id, "position", "p-"+string(id)))
		}
		for range n(4, "arms") {
			list = append(list, cue(rapid.SampledFrom([]timeline.ID{"a", "b"}).Draw(rt, "song"), "arm", timeline.Time(n(50, "up"))*sec, timeline.Time(1+n(5, "up for"))*sec))
		}
		s := stage(t, list...)
		p := timeline.Compile(s, s.Night("n"))
		want := map[string]bool{}
		for _, m := range v.Clear {
			for _, id := range []timeline.ID{"f1", "f2"} {
				u := p.Units.Of(id)
				away := u.Position.X - m.At.X
				if away < 0 {
					away = -away
				}
				if u.Article.Clear == 0 || max(0, away-m.Radius) >= u.Article.Clear {
					continue
				}
				for i := range p.Songs {
					for k := range p.Songs[i].Windows {
						w := &p.Songs[i].Windows[k]
						if m.Song == "" || m.Song == p.Songs[i].Song.ID && w.Down >= m.From && w.Up <= m.To {
							want[fmt.Sprint(m.Name, " ", w.Cue.ID)] = true
						}
					}
				}
			}
		}
		got := map[string]bool{}
		for _, f := range ofRule("arm-in-clear-zone", Check(p, Facts{})) {
			for _, m := range v.Clear {
				if f.Values[0].Text == m.String() {
					got[fmt.Sprint(m.Name, " ", f.Ref.ID)] = true
				}
			}
		}
		require.Equal(rt, sortedKeys(want), sortedKeys(got))
	})
}
