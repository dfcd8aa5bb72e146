package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Derived from the published factors of ADR 1.1.3.6 (×50, ×3, ×1, ×0 by
// category, limit 1000): 3.84 kg NEC of 1.4G, 132 kg of CO2 and 44 kg
// of propane come to 11.52 + 132 + 132 = 275.52 points.
func TestTransportPointsOfOneNight(t *testing.T) {
	s, err := NewShow("show1", "x", Rate25).Edit(func(d *Draft) error {
		d.Put("", &Article{Base: Base{ID: "mine"}, Family: Mine, SingleUse: true, NEC: 1920, Division: "1.4G"},
			&Article{Base: Base{ID: "flash"}, Family: FlashPot, SingleUse: true, NEC: 500, Division: "1.4S"},
			&Article{Base: Base{ID: "own"}, Family: OwnFamily, SingleUse: true, NEC: 1, Division: "?"},
			&Placed{Base: Base{ID: "m1"}, Article: "mine"}, &Placed{Base: Base{ID: "m2"}, Article: "mine", Spare: true}, &Placed{Base: Base{ID: "f1"}, Article: "flash"},
			&Placed{Base: Base{ID: "o1"}, Article: "own"},
			&Supply{Base: Base{ID: "c"}, Medium: "CO2", Fill: 22, Units: 4, Spare: 2, Usable: 1}, &Supply{Base: Base{ID: "p"}, Medium: "Propane", Fill: 11, Units: 4, Usable: 1},
			&Supply{Base: Base{ID: "w"}, Medium: "fluid", Fill: 100, Units: 1, Usable: 1})
		return nil
	})
	require.NoError(t, err)
	got := Compile(s, nil).Transport(DefaultTransportFactors())
	require.Equal(t, []TransportLine{{"1.4G", "2", 3.84, 11.52}, {"1.4S", "4", 0.5, 0}, {"?", "", 0.001, 0}, {"CO2", "3", 132, 132}, {"Propane", "2", 44, 132}}, got.Lines)
	require.Equal(t, 275.52, got.Points)
	require.Equal(t, []TransportLine{{"?", "", 0.001, 0}}, got.Open)
	night := &Night{Fills: []Fill{{Supply: "c", Kg: 80}}}
	require.Equal(t, 275.52-8, Compile(s, night).Transport(DefaultTransportFactors()).Points, "weighed fills count as weighed")
}

// From memory of ADR 1.1.3.6.3, class 1.
func TestTransportCategoryOf(t *testing.T) {
	for division, want := range map[string]string{"1.1G": "1", "1.3G": "1", "1.4G": "2", "1.4B": "2", "1.4S": "4", "1.4s": "4", "1.1A": "0", "1.2L": "0", "1.5D": "1", "1.6N": "2",
		"": "", "1.4": "", "1.7G": "", "2.1": "", "1.4Z": "", "F2": ""} {
		require.Equal(t, want, TransportCategoryOf(division), division)
	}
	require.Equal(t, "3", (&Article{Division: "1.4G", Transport: "3"}).TransportCategory(), "its own comes first")
}

// Two shows on one day in one venue need the pieces of both.
func TestSiteDays(t *testing.T) {
	s, err := NewShow("show1", "x", Rate25).Edit(func(d *Draft) error {
		d.Put("", &Article{Base: Base{ID: "mine"}, Family: Mine, SingleUse: true, NEC: 0.1, Division: "1.4G"}, &Placed{Base: Base{ID: "m1"}, Article: "mine"},
			&Placed{Base: Base{ID: "m2"}, Article: "mine"},
			&Venue{Base: Base{ID: "v"}, Slug: "v"}, &Venue{Base: Base{ID: "w"}, Slug: "w"},
			&Night{Base: Base{ID: "n1"}, Slug: "n1", Venue: "v", Date: "2031-05-09"}, &Night{Base: Base{ID: "n2"}, Slug: "n2", Venue: "v", Date: "2031-05-09", Rig: []RigChange{{Kind: "placed", ID: "m1", Out: true}}},
			&Night{Base: Base{ID: "n3"}, Slug: "n3", Venue: "w", Date: "2031-05-09"}, &Night{Base: Base{ID: "n4"}, Slug: "n4", Venue: "v"})
		return nil
	})
	require.NoError(t, err)
	days := SiteDays(s)
	require.Len(t, days, 2)
	require.Equal(t, []*Night{s.Night("n1"), s.Night("n2")}, days[0].Nights)
	require.Equal(t, []DivisionNEC{{"1.4G", 3, 0.3}}, days[0].Divisions)
	require.Equal(t, 0.3, days[0].NEC)
	require.Equal(t, ID("w"), days[1].Venue)
	require.Equal(t, 2, days[1].Pieces)
}
