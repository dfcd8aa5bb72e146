package sheet

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/intake"
	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// listed gives the rows of a show's cue list without what is new with each cue:
// its number among equals and its id.
func listed(t require.TestingT, s *timeline.Show) (data []byte, rows [][]string) {
	l, err := report.NewCueList(timeline.Compile(s, nil), report.Filter{})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, cueList{CueList: l}.WriteCSV(&b))
	r := csv.NewReader(bytes.NewReader(b.Bytes()))
	all, err := r.ReadAll()
	require.NoError(t, err)
	heads := cueColumns.csvHeads()
	from := slices.IndexFunc(all, func(row []string) bool { return row[0] == "number" })
	at := func(name string) int { return slices.Index(heads, name) }
	for _, row := range all[from+1:] {
		if row[at("action")] == "lost" {
			continue
		}
		row[at("number")], row[at("cue")] = "", ""
		if row[at("action")] != "hit" {
			// Windows that were joined are one cue on each device afterwards, whose
			// end is a cue's, to 0.1 ms: what counts is the frame.
			row[at("target")], row[at("open s")] = "", ""
			if strings.HasSuffix(row[at("action")], "down") {
				for _, name := range []string{"residual ms", "bar", "hit timecode", "hit s", "command s"} {
					row[at(name)] = ""
				}
			}
		}
		rows = append(rows, row)
	}
	slices.SortFunc(rows, slices.Compare[[]string])
	return b.Bytes(), rows
}

// bare is a show whose songs have lost their lanes and cues.
func bare(t require.TestingT, s *timeline.Show) *timeline.Show {
	out, err := s.Edit(func(d *timeline.Draft) error {
		for _, song := range s.Songs {
			for _, c := range song.Cues {
				if err := d.Remove(timeline.Ref{Kind: "cue", Song: song.ID, ID: c.ID}); err != nil {
					return err
				}
			}
			for _, l := range song.Lanes {
				if err := d.Remove(timeline.Ref{Kind: "lane", Song: song.ID, ID: l.ID}); err != nil {
					return err
				}
			}
		}
		return nil
	})
	require.NoError(t, err)
	return out
}

// back takes a list into a show.
func back(t require.TestingT, s *timeline.Show, data []byte) (*timeline.Show, []intake.CueRow) {
	table, err := intake.ReadTable(data, intake.TableOptions{Any: intake.MappingFields()})
	require.NoError(t, err)
	require.True(t, table.OwnCueList())
	p := timeline.Compile(s, nil)
	rows, err := table.Cues(p, intake.CueOptions{})
	require.NoError(t, err)
	n := 0
	out, err := s.Edit(intake.PlaceCues(p, rows, func(kind string, _ timeline.ID) timeline.ID {
		n++
		return timeline.ID(fmt.Sprint(kind, "-", n))
	}))
	require.NoError(t, err)
	return out, rows
}

// A cue list that is taken into the same rig without any option gives the same
// list: every hit on its frame, with what it plays, from a cue on the same group,
// and every window.
func TestCueListComesBack(t *testing.T) {
	small, err := testshow.Charged(t).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.Device{Base: timeline.Base{ID: "d2"}, Name: "bar 2", Type: "bar", Starts: []timeline.Patch{{Universe: 1, Slot: 100}}},
			&timeline.Placed{Base: timeline.Base{ID: "f2"}, Name: "flame 2", Article: "flame"},
			&timeline.Wire{Base: timeline.Base{ID: "w9"}, Placed: "f2", Driver: "d2", Output: 1},
			&timeline.Group{Base: timeline.Base{ID: "bars"}, Name: "=bars", Members: []timeline.ID{"f1", "f2"}})
		return nil
	})
	require.NoError(t, err)
	windows, groups := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		s := testshow.Random(t, small)
		s, err := s.Edit(func(d *timeline.Draft) error {
			for i := range rapid.IntRange(0, 6).Draw(t, "windows") {
				c := &timeline.Cue{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("y%d", i))}, Lane: "larm", Target: rapid.SampledFrom([]timeline.ID{"", "f2", "bars"}).Draw(t, "flames"), Open: timeline.Time(rapid.IntRange(0, 9000).Draw(t, "open")) * timeline.Millisecond}
				c.At = timeline.AtTime(timeline.Time(rapid.IntRange(0, 50000).Draw(t, "up")) * timeline.Millisecond)
				if rapid.Bool().Draw(t, "bar") {
					c.At = timeline.AtBar(timeline.BarBeat{Bar: rapid.IntRange(1, 25).Draw(t, "bar"), Beat: timeline.NewRat(int64(rapid.IntRange(0, 11).Draw(t, "part")), 3)})
				}
				d.Put("ember", c)
			}
			return nil
		})
		require.NoError(t, err)
		data, want := listed(t, s)
		again, rows := back(t, bare(t, s), data)
		for _, r := range rows {
			require.False(t, r.Bad, "line %d: %s", r.Line, r.Says)
		}
		for _, song := range again.Songs {
			for _, c := range song.Cues {
				if l := song.Lane(c.Lane); l.Window() {
					windows++
				} else if target := cmp.Or(c.Target, l.Target); again.Rig.Group(target) != nil {
					groups++
				}
			}
		}
		_, got := listed(t, again)
		require.Equal(t, want, got)
	})
	require.Positive(t, windows)
	require.Positive(t, groups)
}

// The open time of a cue is kept to 0.1 ms; a window that others prolonged closes
// on its frame all the same.
func TestWindowsCloseOnTheirFrame(t *testing.T) {
	s, err := testshow.Charged(t).Edit(func(d *timeline.Draft) error {
		d.Put("ember", &timeline.Cue{Base: timeline.Base{ID: "y1"}, Lane: "larm", At: timeline.AtBar(timeline.BarBeat{Bar: 3, Beat: timeline.NewRat(2, 3)}), Open: timeline.Second}, // at 4.3333… s
			&timeline.Cue{Base: timeline.Base{ID: "y2"}, Lane: "larm", At: timeline.AtTime(5 * timeline.Second), Open: 2 * timeline.Second})
		return nil
	})
	require.NoError(t, err)
	data, want := listed(t, s)
	require.Contains(t, string(data), "2.666666667,01:00:07:00")
	again, _ := back(t, bare(t, s), data)
	_, got := listed(t, again)
	require.Equal(t, want, got)
}

// Rows that are not as the program writes them say what would be right, and none
// of them is taken for a hit.
func TestCueListRowsThatAreChanged(t *testing.T) {
	s := testshow.Charged(t)
	data, _ := listed(t, s)
	for _, c := range []struct{ old, now, want string }{
		{"1,1,\"Ember, slowly\",hit", "1,1,\"Ember, slowly\",fire", `action "fire" is none that a cue list has: write hit, arm up, arm down, condition up, condition down, heater on, heater off, hit alone for effects`},
		{",3.1,jet 1,", ",4.1,jet 1,", "at 4.1 is at 6.0000 s, and hit s says 4.0000: the beats were others, or one cell was changed; empty the cell at to go by the other"},
		{",jet 1,bank 1", ",jet 9,bank 1", `placed "jet 9" is not in the show: there is placed:"jet 1", placed:"comet 1", placed:"comet 2", placed:"flame 1"`},
		{",arm up,", ",arm down,", `no line "arm up" closes here; add it, or take this one out`},
	} {
		text := strings.Replace(string(data), c.old, c.now, 1)
		require.NotEqual(t, string(data), text, c.old)
		_, rows := back(t, bare(t, s), []byte(text))
		var bad []string
		for _, r := range rows {
			if r.Bad {
				bad = append(bad, r.Says)
			}
		}
		require.NotEmpty(t, bad)
		require.Equal(t, c.want, bad[0])
	}
}

// Whatever stands in some cells of a list, each row is placed or says why not, and
// the rows that can be placed can be placed together.
func TestCueListOfAnyCells(t *testing.T) {
	s := testshow.Charged(t)
	data, _ := listed(t, s)
	empty := bare(t, s)
	bad := 0
	rapid.Check(t, func(t *rapid.T) {
		all, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		require.NoError(t, err)
		from := slices.IndexFunc(all, func(row []string) bool { return row[0] == "number" }) + 1
		for range rapid.IntRange(1, 4).Draw(t, "cells") {
			row := all[rapid.IntRange(from, len(all)-1).Draw(t, "row")]
			row[rapid.IntRange(0, len(row)-1).Draw(t, "column")] = rapid.SampledFrom([]string{"", "hit", "arm up", "arm down", "never", "-1", "1e9", "3.1", "placed:", "group:all", "jet 1", "comet", "Tide", "'=x", "01:00:00:00", "火"}).Draw(t, "text")
		}
		var b bytes.Buffer
		require.NoError(t, csv.NewWriter(&b).WriteAll(all))
		_, rows := back(t, empty, b.Bytes())
		require.Len(t, rows, len(all)-from)
		for _, r := range rows {
			require.NotEmpty(t, r.Says, "line %d", r.Line)
			if r.Bad {
				bad++
			}
		}
	})
	require.Positive(t, bad)
}
