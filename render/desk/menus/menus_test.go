package menus

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// commandsOf lists the commands of lines, those of menus beside them as well.
func commandsOf(lines []Line) (list []string) {
	for _, l := range lines {
		if l.Command != "" {
			list = append(list, l.Command)
		}
		list = append(list, commandsOf(l.Sub)...)
	}
	return list
}

// Each command stands in its menu once, in the order of the plan; what no plan knows is in the last menu, and a menu without a plan is a list.
func TestEachCommandStandsOnce(t *testing.T) {
	given := words("quit undo paste-same save new-show export export-all what-is-new export-timecode")
	lines := Arrange("Show", given)
	got := commandsOf(lines)
	require.ElementsMatch(t, given, got)
	require.Equal(t, "A show", lines[0].Head)
	require.Equal(t, []string{"new-show", "save"}, []string{lines[1].Command, lines[2].Command})
	last := lines[len(lines)-1]
	require.Equal(t, More, last.Name)
	require.Equal(t, words("undo paste-same what-is-new"), commandsOf(last.Sub))
	at := slices.IndexFunc(lines, func(l Line) bool { return l.Name == "Export more" })
	require.GreaterOrEqual(t, at, 0)
	require.Equal(t, words("export-all export-timecode"), commandsOf(lines[at].Sub))
	require.Equal(t, []Line{{Command: "palette"}, {Command: "help"}}, Arrange("Help", words("palette help")))
	require.Empty(t, Arrange("Show", nil))
}

// No name is written down twice, none is caught by a wide one first, and none is a head without anything below it.
func TestPlans(t *testing.T) {
	for group, parts := range plans {
		seen := map[string]bool{}
		for _, p := range parts {
			require.NotEmpty(t, p.head, group)
			require.NotZero(t, len(p.list)+len(p.subs), "%s, %s", group, p.head)
			all := p.list
			for _, s := range p.subs {
				require.NotEmpty(t, s.name)
				all = append(slices.Clone(all), s.list...)
			}
			for _, name := range all {
				require.False(t, seen[name], "%s stands twice in %s", name, group)
				seen[name] = true
			}
		}
	}
}
