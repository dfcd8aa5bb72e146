package render

import (
	"fmt"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

const (
	ms  = timeline.Millisecond
	sec = timeline.Second
)

// demoPlace is a placed effect of the demo rig with its lane.
type demoPlace struct {
	id, name, article, position string
}

var demoPlaces = []demoPlace{
	{"jet-l", "Jet left", "jet", "down-l"}, {"jet-r", "Jet right", "jet", "down-r"},
	{"flame-l", "Flame left", "flame", "down-l"}, {"flame-r", "Flame right", "flame", "down-r"},
	{"spark-l", "Sparks left", "sparks", "mid-l"}, {"spark-r", "Sparks right", "sparks", "mid-r"},
	{"comet-1", "Comets", "comet", "roof"}, {"report-1", "Reports", "report", "roof"},
	{"paper-1", "Paper", "paper", "up-m"}, {"fog-1", "Low fog", "fog", "up-m"}, {"own-1", "Kite drop", "kite", "up-m"},
}

func rec[T any, P interface {
	*T
	timeline.Record
}](kind, id string, fill func(P)) timeline.Record {
	r := timeline.KindOf(kind).New(timeline.ID(id)).(P)
	fill(r)
	return r
}

func demoStock() []timeline.Record {
	article := func(id, name string, f timeline.Family, lead, open timeline.Time) timeline.Record {
		return rec("article", id, func(a *timeline.Article) { a.Name, a.Family, a.Lead, a.Open = name, f, lead, open })
	}
	return []timeline.Record{
		article("jet", "CO2 jet", timeline.CO2Jet, 120*ms, 1500*ms), article("flame", "Gas flame", timeline.PropaneFlame, 150*ms, 600*ms),
		article("sparks", "Spark machine", timeline.SparkMachine, 700*ms, 4*sec), article("comet", "Comet", timeline.Comet, 900*ms, 1200*ms),
		article("report", "Report", timeline.Report, 15*ms, 20*ms), article("paper", "Paper blower", timeline.ConfettiBlower, 400*ms, 8*sec),
		article("fog", "Low fog", timeline.FogMachine, 700*ms, 14*sec), article("kite", "Kite", timeline.OwnFamily, 500*ms, 2*sec),
	}
}

func demoRig() []timeline.Record {
	var list []timeline.Record
	for _, p := range []struct {
		id, name string
		x, y, z  float64
	}{{"down-l", "Downstage left", -6, 0.5, 0}, {"down-r", "Downstage right", 6, 0.5, 0}, {"mid-l", "Riser left", -4, 4, 1},
		{"mid-r", "Riser right", 4, 4, 1}, {"roof", "Roof truss", 0, 5, 9}, {"up-m", "Upstage middle", 0, 8, 0}} {
		list = append(list, rec("position", p.id, func(r *timeline.StagePosition) { r.Name, r.X, r.Y, r.Z = p.name, p.x, p.y, p.z }))
	}
	for _, p := range demoPlaces {
		list = append(list, rec("placed", p.id, func(r *timeline.Placed) {
			r.Name, r.Article, r.Position = p.name, timeline.ID(p.article), timeline.ID(p.position)
		}))
	}
	return append(list,
		rec("devicetype", "head", func(r *timeline.DeviceType) {
			r.Name = "Two-slot flame head"
			r.Slots = []timeline.Slot{{Block: 1, Number: 1, Role: timeline.EffectSlot, From: 200, To: 255}, {Block: 1, Number: 2, Role: timeline.ArmSlot, From: 100, To: 150}}
		}),
		rec("device", "head-l", func(r *timeline.Device) { r.Name, r.Type = "Head left", "head" }),
		rec("wire", "w1", func(r *timeline.Wire) { r.Placed, r.Driver, r.Output = "flame-l", "head-l", 1 }),
		rec("group", "flames", func(r *timeline.Group) { r.Name, r.Members = "Both flames", []timeline.ID{"flame-l", "flame-r"} }))
}

// demoSong gives a song of the given bars at 120 to the minute with cues strewn over its lanes.
func demoSong(bars int) []timeline.Record {
	list := []timeline.Record{
		rec("section", "s1", func(s *timeline.Section) { s.Name, s.At, s.Energy = "Opening", bar(1, 0), 20 }),
		rec("section", "s2", func(s *timeline.Section) { s.Name, s.At, s.Energy = "Verse", bar(9, 0), 45 }),
		rec("section", "s3", func(s *timeline.Section) { s.Name, s.At, s.Energy = "Chorus", bar(25, 0), 90 }),
		rec("marker", "m1", func(m *timeline.Marker) { m.Name, m.At = "lights out", bar(7, 2) }),
		rec("marker", "m2", func(m *timeline.Marker) { m.Name, m.At = "singer on riser", bar(24, 0) }),
		rec("lane", "arm", func(l *timeline.Lane) { l.Name, l.Target, l.Role = "Arm, flame left", "flame-l", timeline.ArmSlot }),
		rec("cue", "arm-1", func(c *timeline.Cue) { c.Lane, c.At, c.Open = "arm", bar(8, 0), 40*sec }),
	}
	for i, p := range demoPlaces {
		lane := timeline.ID(p.id)
		list = append(list, rec("lane", p.id, func(l *timeline.Lane) { l.Name, l.Target, l.Locked = p.name, lane, i == 6 }))
		every := []int{4, 4, 2, 2, 8, 8, 6, 5, 24, 30, 16}[i]
		for b := 1 + i; b < bars; b += every {
			id := fmt.Sprintf("%s-%d", p.id, b)
			list = append(list, rec("cue", id, func(c *timeline.Cue) { c.Lane, c.At = lane, bar(b, int64(i%4)) }))
		}
	}
	return list
}

func bar(n int, beat int64) timeline.Moment {
	return timeline.AtBar(timeline.BarBeat{Bar: n, Beat: timeline.NewRat(beat, 1)})
}

// demoShow gives a show with one song of the given bars.
func demoShow(t testing.TB, bars int, more ...timeline.Record) *SongData {
	s := timeline.NewShow("demo", "Lanterns over Water", timeline.Rate25)
	head := rec("song", "ember", func(h *timeline.SongHead) {
		h.Title, h.Slug, h.Start = "Ember", "ember", timeline.Timecode{H: 3}
		h.Length = timeline.Time(bars) * 2 * sec
		h.Beats = timeline.SteadyBeatMap(0, sec/2, timeline.Metre{Num: 4, Den: 4}, bars)
	})
	show, err := s.Edit(func(d *timeline.Draft) error {
		d.Put("", demoStock()...)
		d.Put("", demoRig()...)
		d.Put("", head)
		d.Put("ember", demoSong(bars)...)
		d.Put("ember", more...)
		return nil
	})
	require.NoError(t, err)
	return NewSongData(show, timeline.Compile(show, nil).Songs[0].SongPlan)
}

// demoPeaks is a sound that swells and beats.
type demoPeaks struct{}

func (demoPeaks) Columns(from, to timeline.Time, out []Column) {
	for i := range out {
		t := (from + (to-from)*timeline.Time(i)/timeline.Time(len(out))).Seconds()
		if t < 0 {
			out[i] = Column{}
			continue
		}
		swell := 0.25 + 0.3*math.Abs(math.Sin(t/9)) + 0.3*math.Exp(-6*math.Mod(t, 0.5))
		ripple := 0.75 + 0.25*math.Sin(t*97)
		out[i] = Column{Min: int16(-30000 * swell * ripple), Max: int16(32000 * swell * ripple), RMS: uint16(15000 * swell)}
	}
}

func demoMarks() *Marks {
	at := func(b int) Instant { return Instant{At: timeline.Time(b-1) * 2 * sec, On: true} }
	return NewMarks([]Mark{
		{Severity: SevError, Rule: "spacing", At: at(14), Cue: "flame-l-13", Where: "bar 13 beat 3, 03:00:25:00", Text: "Flame left fires 180 ms after its last cue; this device needs 400 ms"},
		{Severity: SevWarning, Rule: "arm", At: at(31), Cue: "flame-l-31", Where: "bar 31 beat 3, 03:01:01:00", Text: "Flame left is commanded after its arm slot went down"},
		{Severity: SevNote, Rule: "share", Where: "", Text: "Two placed effects share arm slot 1.45: declared"},
	}, "14 rules on this song")
}

func demoView(d *SongData, w, h int) *SongView {
	return &SongView{Data: d, Area: image.Rect(0, 0, w, h), Peaks: demoPeaks{}, Marks: demoMarks(), Limit: 6}
}
