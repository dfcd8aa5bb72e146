package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTuneRule(t *testing.T) {
	s := NewShow("show1", "Tour", Rate25)
	tuned, err := s.Edit(TuneRule(Setting{Base: Base{ID: "roof"}}.WithValue("margin", "1.5").WithValue("tolerance", "0.2").WithValue("margin", "2")))
	require.NoError(t, err)
	own := tuned.Setting("roof")
	require.Equal(t, []string{"tolerance=0.2", "margin=2"}, own.Values)
	require.Equal(t, "2", own.Value("margin"))
	require.Empty(t, own.Value("marg"))
	require.Empty(t, s.Setting("roof").Value("margin"))
	require.Nil(t, s.Setting("roof"))

	back := own.WithValue("margin", "").WithValue("tolerance", "")
	require.Len(t, own.Values, 2, "the setting in the show stays as it is")
	plain, err := tuned.Edit(TuneRule(back))
	require.NoError(t, err)
	require.Nil(t, plain.Setting("roof"))
	again, err := plain.Edit(TuneRule(back))
	require.NoError(t, err)
	require.Empty(t, Diff(plain, again))

	_, err = s.Edit(TuneRule(Setting{Base: Base{ID: "roof"}, Severity: "grave"}))
	require.ErrorContains(t, err, "must be error, warning or note")
}
