package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows"
	"emberbeat/timeline"
)

// Every kind can be added and every field written by the edit verb: the text
// that a record of the example holds, written into it again, changes nothing.
func TestEveryFieldCanBeEdited(t *testing.T) {
	inExampleFolder(t, true)
	for _, k := range timeline.Kinds() {
		ref, r := anyRecord(loadTour(t), k)
		if r == nil {
			require.Zero(t, runIn(t, "edit", "tour", "--add", k.Name, "--song", "1"), k.Name)
			ref, r = anyRecord(loadTour(t), k)
		}
		args := []string{"edit", "tour", ref, "--dry-run", "--json"}
		for i := range k.Fields {
			f := &k.Fields[i]
			args = append(args, f.Name+"="+f.Get(r).String())
		}
		var out, errs bytes.Buffer
		require.Zero(t, run(args, strings.NewReader(""), &out, &errs), "%s: %s", ref, errs.String())
		require.JSONEq(t, `{"changes": []}`, out.String(), ref)
	}
}

func loadTour(t *testing.T) *timeline.Show {
	t.Helper()
	l, err := shows.Load("tour")
	require.NoError(t, err)
	return l.Show
}

// anyRecord gives a record of a kind, and how a user names it; nil if there is
// none.
func anyRecord(s *timeline.Show, k *timeline.Kind) (string, timeline.Record) {
	songs := []timeline.ID{""}
	if k.InSong {
		songs = nil
		for _, g := range s.Songs {
			songs = append(songs, g.ID)
		}
	}
	for _, song := range songs {
		if list := k.List(s, song); len(list) > 0 {
			ref := timeline.Ref{Kind: k.Name, Song: song, ID: list[0].RecordID()}
			return ref.String(), list[0]
		}
	}
	return "", nil
}
