package carried_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/carried"
	"emberbeat/shows/report/changed"
	"emberbeat/timeline"
	"emberbeat/timeline/carry"
	"emberbeat/timeline/rule"
)

var update = flag.Bool("update", false, "write the golden files anew")

const sec = timeline.Second

// show is a song of 32 bars at 120 with jets, an arm and sections.
func show(t *testing.T) *timeline.Show {
	t.Helper()
	s, err := timeline.NewShow("tour1", "Gravel and Tin", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.SongHead{Base: timeline.Base{ID: "s1"}, Title: "Low Tide", Slug: "low-tide", Start: timeline.Timecode{H: 1},
			Audio: timeline.Audio{Path: "audio/a.wav", FileHash: "aa", Rate: 44100, Frames: 64 * 44100}, Beats: timeline.SteadyBeatMap(0, sec/2, timeline.Metre{Num: 4, Den: 4}, 32)},
			&timeline.Article{Base: timeline.Base{ID: "jet"}, Name: "Jet", Family: "co2-jet", HitPoint: timeline.FullEffect, Control: timeline.SlotControl, Open: sec, Medium: "CO2", UseRate: 0.5},
			&timeline.Placed{Base: timeline.Base{ID: "p1"}, Name: "Jet left", Article: "jet"},
			&timeline.Supply{Base: timeline.Base{ID: "gas"}, Name: "CO2 left", Medium: "CO2", Feeds: []timeline.ID{"p1"}, Fill: 10, Usable: 0.5, Units: 1},
			&timeline.Set{Base: timeline.Base{ID: "main"}, Name: "Main", Entries: []timeline.Entry{{Song: "s1"}}})
		d.Put("s1", &timeline.Lane{Base: timeline.Base{ID: "l1"}, Name: "Jets", Target: "p1", Role: timeline.EffectSlot},
			&timeline.Section{Base: timeline.Base{ID: "a"}, Name: "Verse", At: at("1.1")}, &timeline.Section{Base: timeline.Base{ID: "b"}, Name: "Chorus", At: at("9.1")})
		for id, place := range map[timeline.ID]string{"c1": "3.1", "c2": "9.1", "c3": "12.1", "c4": "17.3", "c5": "25.1"} {
			d.Put("s1", &timeline.Cue{Base: timeline.Base{ID: id}, Lane: "l1", At: at(place)})
		}
		return nil
	})
	require.NoError(t, err)
	return s
}

func at(text string) timeline.Moment {
	m, err := timeline.ParseMoment(text)
	if err != nil {
		panic(err)
	}
	return m
}

func run(old, oldEnd, is timeline.Time, sure int) timeline.TimeRun {
	return timeline.TimeRun{Old: old, OldEnd: oldEnd, New: is, NewEnd: is + oldEnd - old, Exact: sure > 900, Sure: sure}
}

// report is an edit of the song: two bars cut, a chorus heard again, eight seconds put
// in, and an end that is only like the old one; and files that are carried nowhere.
func report(t *testing.T) *carried.Report {
	t.Helper()
	s := show(t)
	m := &timeline.TimeMap{Old: 64 * sec, New: 84 * sec, Runs: []timeline.TimeRun{run(0, 16*sec, 0, 1000), run(20*sec, 40*sec, 16*sec, 1000), run(30*sec, 40*sec, 36*sec, 999), run(40*sec, 64*sec, 54*sec, 700)}}
	start := timeline.Timecode{H: 2}
	p, err := carry.Propose(s, "s1", m, carry.Recording{}, carry.Recording{Sections: []carry.Stretch{{Name: "C", From: 45 * sec, To: 55 * sec}}},
		carry.Options{Audio: timeline.Audio{Path: "audio/b.wav", FileHash: "bb", Rate: 44100, Frames: 84 * 44100}, Start: &start})
	require.NoError(t, err)
	free := timeline.Timecode{H: 3}
	was := timeline.Compile(s, nil)
	r := carried.New(was, []carried.Arrived{
		{File: "in/new mix.wav", Verdict: "carries", Song: "s1", Alike: 0.9, Proposal: p, Warnings: []string{"the file ends in the middle of a frame"},
			Starts: []carried.Start{{From: "timecode on channel 2", Timecode: "02:30:00:00", Rate: "25", Offers: true}}},
		{File: "in/other.wav", Verdict: "no song", Why: "it is of no song of the show", Free: &free},
		{File: "in/noise.wav", Verdict: "unread", Why: "is a text file"}})
	next, err := s.Edit(p.Edit())
	require.NoError(t, err)
	is := timeline.Compile(next, nil)
	r.Weigh(make([]timeline.Concern, 1), []*changed.Forecast{changed.Compare(was, is, rule.Check(was, rule.Facts{}), rule.Check(is, rule.Facts{}))}, was, is)
	return r
}

func TestReportReads(t *testing.T) {
	r := report(t)
	var text bytes.Buffer
	require.NoError(t, r.WriteText(&text))
	golden(t, "carried.txt", text.Bytes())
	var out bytes.Buffer
	require.NoError(t, r.WriteJSON(&out))
	golden(t, "carried.json", out.Bytes())
	var back struct {
		Counts carried.Counts `json:"counts"`
		Items  []struct {
			Kind, Status string
			Is           *struct{ Timecode string }
		}
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &back))
	cues := 0
	for _, i := range back.Items {
		if i.Kind == "cue" {
			cues++
			require.Equal(t, i.Status == "lost", i.Is == nil, "what is lost has no place, and all else has one")
		}
	}
	require.Equal(t, 5, cues)
	require.Equal(t, cues, back.Counts.Sure+back.Counts.Look+back.Counts.Lost)
	require.Equal(t, "lost", back.Items[0].Status, "worst first")
	require.True(t, r.Open())
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, got, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), string(got), "go test ./shows/report/carried -update writes it anew")
}
