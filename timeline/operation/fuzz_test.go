package operation

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzPicturePoint reads any text; what is read writes back to what reads the same.
func FuzzPicturePoint(f *testing.F) {
	for _, s := range []string{"120,340=-6,0", "12%,30%=-6,0.5", "1e2,3=1,2", "1%,2=3,4", "=,", "101%,1%=1,1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ParsePicturePoint(text)
		if err != nil {
			return
		}
		again, err := ParsePicturePoint(p.String())
		require.NoError(t, err, p)
		require.Equal(t, p, again)
	})
}

// FuzzMeaning reads any text; what is read has both of its sides.
func FuzzMeaning(f *testing.F) {
	for _, s := range []string{"Cold jet=article:cold", "a=b=devicetype:x", "=article:x", "x=song:y"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := parseMeaning(text)
		if err != nil {
			return
		}
		require.Contains(t, []string{"article", "devicetype"}, m.Ours.Kind)
		require.True(t, m.Ours.ID.Valid())
		again, err := parseMeaning(m.Theirs + "=" + m.Ours.Kind + ":" + string(m.Ours.ID))
		if m.Theirs != "" {
			require.NoError(t, err)
			require.Equal(t, m, again)
		}
	})
}
