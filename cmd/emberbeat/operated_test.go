package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"

	"emberbeat/shows"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// Every operation can be done on the command line with every argument that is
// not a form's alone, and a script does it.
func TestEveryOperationHasAVerbAndAScript(t *testing.T) {
	files, err := filepath.Glob("testdata/script/*.txtar")
	require.NoError(t, err)
	var scripts []byte
	for _, f := range files {
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		scripts = append(scripts, text...)
	}
	verbs := map[string]*cobra.Command{}
	for _, c := range newRoot(newTalk(nil, io.Discard, io.Discard)).Commands() {
		verbs[c.Name()] = c
	}
	for _, o := range operation.All() {
		c := verbs[o.Verb]
		require.NotNil(t, c, o.ID())
		action, call := []string{"tour"}, o.Verb+` \S+ `+o.Name
		if o.Name != "" {
			action = append(action, o.Name)
			told := "\n  " + o.Name + " "
			if o.First {
				action, call, told = []string{o.Name, "tour"}, o.Called(), o.Name+" "
			}
			if o.ToldBy != "" {
				told = " " + o.Name + " "
			}
			require.Contains(t, c.Long, told, "the help of %s says what %s takes", o.Verb, o.Name)
		}
		require.NoError(t, c.Args(c, append(action, wordsTaken(o)...)), o.ID())
		for i := range o.Args {
			if a := &o.Args[i]; a.Flag() {
				require.NotNil(t, c.Flags().Lookup(a.Name), "%s --%s", o.ID(), a.Name)
			}
		}
		require.Regexp(t, regexp.MustCompile(`(?m)^(exec|exits \d) emberbeat `+strings.TrimSpace(call)+`(\s|$)`), string(scripts), "a script does %s", o.ID())
	}
}

// Completion knows the actions, the words of an argument and the names of the
// show.
func TestCompletionOfOperations(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "tour")
	require.Zero(t, run([]string{"new", dir, "--example"}, nil, io.Discard, io.Discard))
	v := operatedBy("night")
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{dir}, "plug"}, {[]string{dir, "fill"}, "CO2 left, 2 cylinders"}, {[]string{dir, "cut"}, "family=comet"}, {[]string{dir, "swap"}, "article=Cold jet, 6 m"},
		{[]string{dir, "distance"}, "performers"}, {[]string{dir, "distance", "audience", "3", "family=comet"}, "family=flash-pot"}, {[]string{dir, "plug", "x"}, "relay bank 1"},
	} {
		list, _ := v.complete()(nil, c.args, "")
		require.Contains(t, list, c.want, c.args)
	}
}

// told are arguments in the example show, by operation that tells its outcome.
var told = map[string][][2]string{
	"patch-add":   {{"type", "flame-head"}, {"count", "2"}, {"space", "stage"}},
	"patch-copy":  {{"name", "spark head 1"}},
	"patch-move":  {{"name", "spark head 1"}, {"at", "4.11"}},
	"wire":        {{"placed", "Comet 1"}, {"bank", "bank B"}, {"rewire", "true"}},
	"feed":        {{"placed", "Jet 1"}, {"supply", "gas-back"}},
	"slot-add":    {{"type", "flame-head"}, {"role", "spare"}},
	"slot-change": {{"type", "flame-head"}, {"slot", "1.1"}, {"name", "open"}},
	"slot-remove": {{"type", "flame-head"}, {"slot", "1.1"}},
	"slot-own":    {{"slot", "1.1"}, {"device", "flame head 1"}, {"name", "open"}},
	"row":         {{"rows", "3 jets, lip, 1.5 m apart"}, {"article", "Cold jet, 6 m"}},
	"regroup":     {{"group", "all flames"}, {"order", "inside-out"}},
	"group":       {{"name", "two"}, {"placed", "Jet 1"}, {"placed", "Jet 2"}},

	"arms":          {{"songs", "Kettle Lightning"}},
	"copy":          {{"from", "Slow Matches"}, {"to", "Tidewater Engine"}, {"bars", "9..16"}},
	"stock-measure": {{"article", "Comet, white, 12 m"}, {"frames", "6,7,6"}},
}

// toldElsewhere are operations that are done to more than a show, whose dry runs
// scripts look at.
var toldElsewhere = map[string]string{
	"arrange-share":    "it is done to a version, and the example has none",
	"arrange-separate": "it is done to a version, and the example has none",
	"arrange-map":      "it is done to a version, and the example has none",
	"phrase":           "it is done to a song, and tells places of its own",
	"quantise":         "it is done to a song",
	"grid-double":      "it is done to a song",
	"grid-half":        "it is done to a song",
	"grid-three-two":   "it is done to a song",
	"grid-two-three":   "it is done to a song",
	"grid-shift":       "it is done to a song",
	"grid-bar-one":     "it is done to a song",
	"grid-tempo":       "it is done to a song",
	"grid-tap":         "it is done to a song",
	"grid-line":        "it is done to a song",
	"grid-split":       "it is done to a song",
	"grid-metre":       "it is done to a song",
	"grid-listen":      "it is done to a song",
	"stock-copy":       "it takes the stock of another show",
	"venue-picture":    "it takes a picture, and is done to a venue",
	"import":           "it takes a drawing of another program",
}

// What an operation tells that it comes to, its verb says in a dry run.
func TestDryRunsSayWhatOperationsTell(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "tour")
	require.Zero(t, run([]string{"new", dir, "--example"}, nil, io.Discard, io.Discard))
	l, err := shows.Load(dir)
	require.NoError(t, err)
	p := timeline.Compile(l.Show, nil)
	where := operation.At{Plan: p, NewID: func(kind string, song timeline.ID) timeline.ID { return shows.NewIDFor(p.Show, kind, song) }}
	for _, o := range operation.All() {
		if !o.Tells() || toldElsewhere[o.ID()] != "" {
			continue
		}
		given := told[o.ID()]
		require.NotEmpty(t, given, "%s tells what it comes to, and nothing here asks it", o.ID())
		call := strings.Fields(o.Called())
		call = slices.Insert(call, map[bool]int{true: len(call), false: 1}[o.First], dir)
		var flags []string
		args, texts := o.New(), map[string][]string{}
		for _, g := range given {
			a := o.Arg(g[0])
			if texts[g[0]] = append(texts[g[0]], g[1]); a.Commas {
				texts[g[0]] = strings.Split(g[1], ",")
			}
			require.NoError(t, a.Give(p, args, texts[g[0]]...), o.ID())
			if a.Flag() {
				flags = append(flags, "--"+g[0]+"="+g[1])
			} else {
				call = append(call, g[1])
			}
		}
		out, err := o.Outcome(where, args)
		require.NoError(t, err, o.ID())
		require.NotEmpty(t, out.Rows, o.ID())
		var text, stdout, stderr bytes.Buffer
		require.NoError(t, writeOutcome(&text, out))
		require.Zero(t, run(append(append(call, flags...), "--dry-run"), nil, &stdout, &stderr), stderr.String())
		for _, line := range strings.Split(strings.TrimSpace(text.String()), "\n") {
			require.Contains(t, stdout.String()+stderr.String(), line, o.ID())
		}
	}
}
