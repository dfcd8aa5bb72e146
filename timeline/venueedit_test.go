package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestVenueEdits(t *testing.T) {
	base, err := small(t).Edit(AddVenue(NewVenue("hall", "Saltglass Hall")))
	require.NoError(t, err)
	require.Equal(t, "saltglass-hall", base.Venue("hall").Slug)
	require.Equal(t, 0.2, base.Venue("hall").Tolerance, "our judgement, as for every new venue")
	barrier := PlanLine{"front barrier", Point{-12, -3}, Point{12, -3}}
	for _, c := range []struct {
		name  string
		edits []Edit
		field string
		want  string
	}{
		{"line", []Edit{LineInVenue("hall", barrier)}, "audience", `"front barrier" from=-12,-3 to=12,-3`},
		{"line again", []Edit{LineInVenue("hall", barrier), LineInVenue("hall", PlanLine{"Front Barrier", Point{-12, -4}, Point{12, -4}})}, "audience", `"Front Barrier" from=-12,-4 to=12,-4`},
		{"mark", []Edit{PerformerInVenue("hall", PlanMark{Name: "singer", At: Point{0, 2}, Radius: 1})}, "performers", `singer at=0,2 radius=1`},
		{"mark in a song", []Edit{PerformerInVenue("hall", PlanMark{Name: "singer", At: Point{0, 2}}), PerformerInVenue("hall", PlanMark{Name: "singer", At: Point{1, 2}, Song: "ember"}),
			PerformerInVenue("hall", PlanMark{Name: "singer", At: Point{3, 2}})}, "performers", `singer at=3,2; singer at=1,2 song=ember`},
		{"clear zone", []Edit{ClearInVenue("hall", PlanMark{Name: "stairs", At: Point{5, 1}, Radius: 2})}, "clear-zones", `stairs at=5,1 radius=2`},
		{"ban", []Edit{BanInVenue("hall", "propane-flame", "comet", "propane-flame")}, "banned", `propane-flame; comet`},
		{"allow", []Edit{BanInVenue("hall", "propane-flame", "comet"), AllowInVenue("hall", "propane-flame")}, "banned", `comet`},
		{"quiet", []Edit{QuietInVenue("hall", QuietWindow{Name: "late", From: "22:30", To: "23:00"}), QuietInVenue("hall", QuietWindow{Name: "late", From: "22:30", To: "23:00", Families: []Family{Report}}),
			QuietInVenue("hall", QuietWindow{Name: "late", Song: "ember"})}, "quiet-windows", `late from=22:30 to=23:00; late from=22:30 to=23:00 families=report; late song=ember`},
		{"condition", []Edit{ConditionInVenue("hall", "fire watch"), ConditionInVenue("hall", " fire watch ")}, "conditions", `fire watch`},
		{"distance", []Edit{DistanceInVenue("hall", Distance{To: ToPersons, AtLeast: 3}), DistanceInVenue("hall", Distance{To: ToPersons, AtLeast: 4})}, "distances", `persons at-least=4`},
	} {
		next, err := base.Edit(c.edits...)
		require.NoError(t, err, c.name)
		require.Equal(t, c.want, KindOf("venue").Field(c.field).Get(next.Venue("hall")).String(), c.name)
	}
	for want, edit := range map[string]Edit{
		`venue:x: there is no such record`:                         BanInVenue("x", "comet"),
		`venue:hall is there already`:                              AddVenue(NewVenue("hall", "x")),
		`venue name: "": is empty`:                                 AddVenue(NewVenue("v", "")),
		`venue audience: "\"\" from=0,0 to=1,0": has no name`:      LineInVenue("hall", PlanLine{"", Point{0, 0}, Point{1, 0}}),
		`begins where it ends`:                                     LineInVenue("hall", PlanLine{"x", Point{1, 1}, Point{1, 1}}),
		`venue performers: "singer at=0,0 song=gone": names no`:    PerformerInVenue("hall", PlanMark{Name: "singer", Song: "gone"}),
		`ends at 2.0000 before it begins at 3.0000`:                ClearInVenue("hall", PlanMark{Name: "x", Song: "ember", From: 3 * Second, To: 2 * Second}),
		`venue banned: "laser": is no article of this show and no`: BanInVenue("hall", "comet", "laser"),
		`venue banned: "mine": is not banned here`:                 AllowInVenue("hall", "mine"),
		`says not when`:              QuietInVenue("hall", QuietWindow{Name: "late"}),
		`names no song of this show`: QuietInVenue("hall", QuietWindow{Name: "late", Song: "gone"}),
		`says nothing`:               ConditionInVenue("hall", ""),
		`asks for no distance`:       DistanceInVenue("hall", Distance{To: ToPersons}),
	} {
		next, err := base.Edit(edit)
		require.ErrorContains(t, err, want)
		require.Nil(t, next)
	}
}
