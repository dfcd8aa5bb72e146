package main

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/testtool"
)

// What verbs say where they refuse, list, tell or change something calls records
// as the crew does, whether they have names of their own, share one or have none.
// What is written to mean a record here is what refusals say is to be written.
func TestNoIDIsEverSaid(t *testing.T) {
	plain := testshow.Charged(t)
	walk := rapid.Custom(func(rt *rapid.T) *timeline.Show { return testshow.Renamed(rt, testshow.Random(rt, plain)) })
	refused, told := 0, 0
	for n := range 2 {
		s := walk.Example(int(testtool.Seed(t))*100 + n)
		s = testshow.Edited(t, s, func(d *timeline.Draft) error { // as a folder can hold it
			for _, a := range s.Stock.Articles {
				if a.HitPoint == "" {
					b := *a
					b.HitPoint = timeline.FirstLight
					d.Put("", &b)
				}
			}
			return nil
		})
		dir := filepath.Join(t.TempDir(), "tour")
		require.NoError(t, shows.Create(dir, s))
		names := s.Names()
		say := func(args ...string) {
			var said bytes.Buffer
			code := run(args, nil, &said, &said)
			require.NotEqual(t, 3, code, said.String())
			if code == 2 {
				refused++
			} else {
				told++
			}
			l, err := shows.Load(dir)
			require.NoError(t, err)
			ids := testshow.IDs(l.Show)
			for id := range testshow.IDs(s) {
				ids[id] = true
			}
			assert.Empty(t, ids.In(strings.ReplaceAll(said.String(), dir, "")), "%q says:\n%s", args, said.String())
		}
		means := func(r timeline.Ref) string { return names.Written(r) }
		name := func(r timeline.Ref) string {
			_, name, _ := strings.Cut(names.Written(r), ":")
			return name
		}
		for _, k := range timeline.Kinds() {
			say("list", dir, k.Plural)
			say("edit", dir, k.Name+":nobody", "--remove")
			for _, song := range songsOf(s, k) {
				for i, r := range k.List(s, song) {
					if ref := refOf(k, song, r); i < 1 && k.Name != "show" {
						say("edit", dir, means(ref), "--remove", "--dry-run")
						say("edit", dir, means(ref), "slug=first")
						say("edit", dir, means(ref), "no-field=1")
					}
				}
			}
		}
		placed, wire, bank, article := refOf(timeline.KindOf("placed"), "", s.Rig.Placed[0]), timeline.Ref{Kind: "wire", ID: "w1"}, timeline.Ref{Kind: "bank", ID: "b1"}, timeline.Ref{Kind: "article", ID: "jet"}
		cue, lane, song := timeline.Ref{Kind: "cue", Song: "ember", ID: "q1"}, timeline.Ref{Kind: "lane", Song: "ember", ID: "ljet"}, timeline.Ref{Kind: "song", ID: "ember"}
		for _, action := range [][]string{
			{"cut", "placed=" + name(placed)}, {"cut", "cue=" + name(cue)}, {"cut", "lane=" + name(lane)}, {"cut", "song=ember"}, {"cut", "article=nobody"},
			{"swap", "article=" + name(article), "--to", name(article)}, {"swap", "placed=" + name(placed), "--to", name(article)},
			{"out", name(placed)}, {"out", name(bank)}, {"plug", name(wire), name(bank), "5"}, {"plug", name(wire), name(bank), "99"}, {"plug", name(placed), name(bank), "3"},
			{"shift", "ember", "--by", "0.2"}, {"accept", "unwired", means(placed), "--by", "somebody", "--reason", "seen"}, {"accept", "recovery", means(cue), "--by", "somebody", "--reason", "seen"},
			{"version", "ember", "tide"}, {"fill", "nobody", "3"}, {"distance", "audience", "3", "article=" + name(article)},
		} {
			say(append([]string{"night", dir, "--night", "first"}, action...)...)
		}
		for _, list := range [][]string{
			{"list", dir, "nights"}, {"list", dir, "commands", "--night", "first"}, {"list", dir, "cues", "--night", "first"}, {"tonight", dir, "--night", "first"}, {"check", dir, "--night", "first", "--long"},
			{"night", dir, "back", "cut", "1", "--night", "first"}, {"night", dir, "back", "cut", "99", "--night", "first"},
			{"wire", dir, name(placed), name(placed), "--bank", name(bank)}, {"wire", dir, name(placed), "--bank", name(bank), "--from", "8"}, {"unwire", dir, name(placed)},
			{"group", dir, "Row", name(placed)}, {"regroup", dir, "nobody", "--order", "as-named"}, {"feed", dir, name(placed), "--supply", "nobody"},
			{"place", dir, "--song", "ember", "--lane", "nobody", "--at", "9.1"}, {"place", dir, "--song", "ember", "--lane", lastOf(name(lane)), "--at", "3.1"},
			{"aftershow", dir, "--night", "first", "--fired", name(bank) + ":7"}, {"aftershow", dir, "--night", "first", "--cleared", name(bank) + ":3", "--by", "somebody"},
			{"swap-bank", dir, name(bank), name(bank)}, {"patch", dir, "move", name(bank), name(bank)},
			{"arrange", dir, "new", "ember", "short", "--start", "09:00:00:00"}, {"arrange", dir, "new", "ember", "short"}, {"arrange", dir, "share", "ember-short", "--dry-run"}, {"arrange", dir, "map", "ember-short", "--dry-run"},
			{"arrange", dir, "without", "ember-short", lastOf(name(cue))}, {"arrange", dir, "without", "ember-short", "nobody"}, {"arrange", dir, "without", "ember-short", lastOf(name(cue)), "--again"},
			{"arrange", dir, "separate", "ember-short"}, {"copy", dir, "ember", "tide", "--bars", "1..4"}, {"set", dir, "out", "ember"}, {"set", dir, "out", "ember-short"}, {"saves", dir}, {"diff", dir + "@1", dir},
		} {
			say(list...)
		}
		_ = song
	}
	require.Greater(t, refused, 60, "that much is refused")
	require.Greater(t, told, 40)
}

func songsOf(s *timeline.Show, k *timeline.Kind) []timeline.ID {
	if !k.InSong {
		return []timeline.ID{""}
	}
	var list []timeline.ID
	for _, g := range s.Songs {
		list = append(list, g.ID)
	}
	return list
}

func refOf(k *timeline.Kind, song timeline.ID, r timeline.Record) timeline.Ref {
	return timeline.Ref{Kind: k.Name, Song: song, ID: r.RecordID()}
}

// lastOf gives what is written after the song.
func lastOf(name string) string {
	_, in, _ := strings.Cut(name, "/")
	return in
}
