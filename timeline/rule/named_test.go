package rule

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// Every number that a rule has of its own is read by its name, and every name
// that is read is one: a number that nobody reads would change nothing.
func TestEverySettingIsReadByName(t *testing.T) {
	read := map[string]bool{}
	for n, d := range declared {
		for _, rule := range d.rules {
			r, ok := Lookup(rule)
			require.True(t, ok, rule)
			at := places[rule][n]
			require.Equal(t, d.name, r.Settings[at].Name)
			require.Empty(t, r.Settings[at].Field)
			require.False(t, read[rule+" "+d.name], "%s of %s is declared twice", d.name, rule)
			read[rule+" "+d.name] = true
		}
	}
	for _, r := range Rules() {
		names := map[string]bool{}
		for _, s := range r.Settings {
			require.False(t, names[s.Name], "%s has two settings %s", r.Name, s.Name)
			names[s.Name] = true
			if s.Field == "" {
				require.True(t, read[r.Name+" "+s.Name], "nobody reads %s of %s", s.Name, r.Name)
			}
		}
	}
}

// A misspelt name stops the program as it starts, and a number asked of a rule
// that does not have it is no other number.
func TestAMisspeltSettingIsNotSilent(t *testing.T) {
	kept := declared
	defer func() { declared = kept; resolve() }()
	setting("exrta", "recovery")
	require.PanicsWithValue(t, `rule recovery has no number of its own that is called "exrta"`, resolve)
	declared = kept
	setting("recovery", "recovery") // stands in a field of the article
	require.Panics(t, resolve)
	declared = kept
	setting("extra", "recoveri")
	require.PanicsWithValue(t, `setting "extra": there is no rule "recoveri"`, resolve)
	declared = kept
	resolve()
	k := settingsOf(&heatRule, nil, 0)
	require.Equal(t, "9.46", k.base.of(heatLevel).text)
	require.Panics(t, func() { k.base.of(recoveryExtra) })
	require.Panics(t, func() { SettingOf(stage(t), "heat", "levle") })
}

// A sheet's numbers are settings like a rule's: read by name, set by the same
// edit, limited to a song; but it finds nothing, and so it is not counted, has no
// severity and cannot be switched off.
func TestNumbersOfSheets(t *testing.T) {
	s := stage(t)
	require.Equal(t, 2*sec, CallGap.Time(s, nil))
	require.Equal(t, ms(250), MarkerReach.Time(s, nil))
	require.Equal(t, 5.0, NearBy.Plain(s, nil))
	for _, r := range Rules() {
		require.False(t, r.OfSheet(), r.Name)
	}
	require.Equal(t, 30.0, HitLimit.Plain(s, nil))
	require.Equal(t, sec, ListWindow.Time(s, nil))
	require.Equal(t, 3.0, OffsetRows.Plain(s, nil))
	require.Len(t, Tunable(), len(Rules())+4)
	next, err := s.Edit(Tune(Tuning{Rule: "manual-go", Numbers: []string{"call-gap=3.5"}, Scope: &[]string{"song=" + string(s.Songs[0].ID)}}))
	require.NoError(t, err)
	require.Equal(t, ms(3500), CallGap.Time(next, s.Songs[0]))
	require.Equal(t, 2*sec, CallGap.Time(next, nil))
	require.Empty(t, ofRule("unknown-setting", Check(timeline.Compile(next, nil), Facts{})))
	_, err = s.Edit(Tune(Tuning{Rule: "manual-go", Severity: new("warning")}))
	require.ErrorContains(t, err, "a sheet finds nothing")
	_, err = s.Edit(Tune(Tuning{Rule: "spotter-sheet", Off: true, Reason: new("not needed")}))
	require.ErrorContains(t, err, "a sheet finds nothing")
	_, err = s.Edit(Tune(Tuning{Rule: "spotter-sheet", Numbers: []string{"near-bye=3"}}))
	require.ErrorContains(t, err, "its settings are near-by")
}
