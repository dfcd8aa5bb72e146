package main

import (
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"

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
