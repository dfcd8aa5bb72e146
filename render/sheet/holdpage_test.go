package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
)

// Arms that are on in all sections of a song are told above its table, once, and have
// no column; those that are on in some have one, with their times above.
func TestArmsThatStayOnAreToldOnce(t *testing.T) {
	section := func(name string, arms ...string) report.HoldSection {
		s := report.HoldSection{Name: name}
		for _, a := range arms {
			s.Arms, s.ArmNames = append(s.Arms, a+" 01:00:01:00 to 01:03:00:00"), append(s.ArmNames, a)
		}
		return s
	}
	for _, x := range []struct {
		name     string
		sections []report.HoldSection
		note     string
		column   bool
	}{
		{"the same", []report.HoldSection{section("Verse", "arm A"), section("Chorus", "arm A")}, "Arms on in every section: arm A 01:00:01:00 to 01:03:00:00", false},
		{"none", []report.HoldSection{section("Verse"), section("Chorus")}, "Arms on: none in any section", false},
		{"in one of two", []report.HoldSection{section("Verse"), section("Chorus", "arm A")}, "Arms and their times: arm A 01:00:01:00 to 01:03:00:00", true},
		{"others", []report.HoldSection{section("Verse", "arm A"), section("Chorus", "arm B")}, "Arms and their times: arm A 01:00:01:00 to 01:03:00:00; arm B 01:00:01:00 to 01:03:00:00", true},
		{"one section", []report.HoldSection{section("Verse", "arm A")}, "Arms and their times: arm A 01:00:01:00 to 01:03:00:00", true},
	} {
		p := holdSongPart(&report.HoldSong{Sections: x.sections})
		require.Contains(t, p.Notes, x.note, x.name)
		at := columnNamed(&p, "arms on")
		require.Equal(t, x.column, at >= 0, x.name)
		for _, r := range p.Rows {
			require.Len(t, r.Cells, len(p.Columns), x.name)
		}
	}
}

// Who must be out before each moment of a position is told once, large, and not again
// among those who are near.
func TestWhoMustBeOutIsToldOnce(t *testing.T) {
	moment := func(inside, outside []string) report.SpotterMoment {
		return report.SpotterMoment{Inside: inside, Outside: outside}
	}
	p := report.SpotterPosition{Name: "Lip", Moments: []report.SpotterMoment{moment([]string{"drummer 1.5 m"}, []string{"singer 4.0 m"}), moment(nil, []string{"drummer 1.5 m", "singer 4.0 m"})}}
	part := spotterSheet{&report.SpotterSheet{}}.position(&p)
	require.Equal(t, "drummer 1.5 m", part.Entries[0].Text)
	require.Contains(t, part.Notes, "Near, outside the zone of some or all: singer 4.0 m")
	require.Equal(t, -1, columnNamed(&part, "people out before"))

	p.Moments = append(p.Moments, moment([]string{"singer 0.5 m"}, nil))
	part = spotterSheet{&report.SpotterSheet{}}.position(&p)
	require.GreaterOrEqual(t, columnNamed(&part, "people out before"), 0)
	require.Contains(t, part.Notes, "Near, outside the zone of some or all: singer 4.0 m, drummer 1.5 m")
}

func columnNamed(p *paper.Part, name string) int {
	for i, c := range p.Columns {
		if c.Name == name {
			return i
		}
	}
	return -1
}
