package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/night"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// What the verb counts before a bank is taken out is what the session foresees
// and what the cut list counts afterwards.
func TestDeadBankIsCountedAlike(t *testing.T) {
	inExampleFolder(t, true)
	require.Zero(t, runIn(t, "night", "tour", "new", "--id", "plain", "--date", "2031-06-05", "--venue", "saltglass", "--name", "plain"))
	counted := 0
	for _, bank := range loadTour(t).Rig.Banks {
		s, err := session.Open("tour", session.Options{ReadOnly: true})
		require.NoError(t, err)
		tried, err := s.Try(timeline.TakeOutTonight("plain", timeline.RigChange{Kind: "bank", ID: bank.ID, Why: "no power"}))
		require.NoError(t, err)
		each, err := s.Foresee(context.Background(), tried, tried.On("plain"))
		require.NoError(t, err)
		require.NoError(t, s.Close())
		counted += each[0].Cues

		verb := []string{"night", "tour", "out", "bank:" + string(bank.ID), "--reason", "no power", "--night", "plain"}
		words := fmt.Sprintf("out of the rig: bank %q: %d cues", bank.Name, each[0].Cues)
		if each[0].Cues == 0 {
			words = fmt.Sprintf("out of the rig: bank %q: it touches no cue of the night", bank.Name)
		}
		var out, errs bytes.Buffer
		require.Zero(t, run(append(verb, "--dry-run"), strings.NewReader(""), &out, &errs), errs.String())
		require.Contains(t, errs.String(), words)

		require.Zero(t, runIn(t, verb...))
		out.Reset()
		require.LessOrEqual(t, run([]string{"export", "tour", "cut-list", "--night", "plain", "--format", "json"}, strings.NewReader(""), &out, &errs), exitFindings, errs.String())
		var list night.CutList
		require.NoError(t, json.Unmarshal(out.Bytes(), &list))
		require.Len(t, list.Changes, 1)
		require.Equal(t, each[0].Cues, list.Changes[0].Cues)
		require.Zero(t, runIn(t, "night", "tour", "back", "out", "--night", "plain"))
	}
	require.Positive(t, counted)
}
