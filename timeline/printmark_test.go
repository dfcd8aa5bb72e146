package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestNextRevision(t *testing.T) {
	for r, want := range map[string]string{"": "A", "A": "B", "Z": "AA", "AZ": "BA", "ZZ": "AAA", "c": "d", "z": "aa", "1": "2", "9": "10", "B2": "B3", "rev 19": "rev 20", "draft!": "draft!2", "Ä": "Ä2"} {
		require.Equal(t, want, NextRevision(r), r)
	}
}

func TestPrintMarks(t *testing.T) {
	for _, s := range []string{"cue-list digest=0123456789abcdef", "load-plan digest=0f revision=B", `patch-sheet digest=0f revision="B 2"`, "cue-list digest=0f revision=B hours=1,2,23"} {
		m, err := ParsePrintMark(s)
		require.NoError(t, err)
		require.Equal(t, s, m.String())
	}
	for s, want := range map[string]string{"": "must start with a sheet", "cue-list": "holds no digest", "cue-list digest=xyz": "hexadecimal digits", "cue-list digest=0f by=me": `"by" is not understood`, "cue-list digest=0f hours=24": "hours from 0 to 23"} {
		_, err := ParsePrintMark(s)
		require.ErrorContains(t, err, want, s)
	}
	s, err := NewShow("s", "S", Rate25).Edit(func(d *Draft) error {
		d.Put("", &Night{Base: Base{ID: "n"}, Slug: "n", Revision: "B", Printed: []PrintMark{{"load-plan", "A", "0f", 0}, {"cue-list", "A", "01", 0}}})
		return nil
	}, MarkPrinted("n", []PrintMark{{"load-plan", "B", "1f", 0}, {"cut-list", "B", "2f", 0}}), MarkPrinted("", []PrintMark{{"cue-list", "", "0a", 0}}))
	require.NoError(t, err)
	p := Compile(s, s.Night("n"))
	require.Equal(t, []PrintMark{{"cue-list", "A", "01", 0}, {"cut-list", "B", "2f", 0}, {"load-plan", "B", "1f", 0}}, p.Printed())
	require.Equal(t, "B", p.Revision())
	tour := Compile(s, nil)
	require.Equal(t, []PrintMark{{"cue-list", "", "0a", 0}}, tour.Printed())
	require.Empty(t, tour.Revision())
	like := s.Night("n").Like()
	require.Empty(t, like.Printed, "another night has printed nothing")
	_, err = s.Edit(MarkPrinted("gone", nil))
	require.ErrorContains(t, err, "night:gone: there is no such record")
}
