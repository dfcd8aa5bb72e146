package rule

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
)

// crewed is a night on a date with one operator and one spotter.
func crewed(date string, more ...timeline.Edit) []timeline.Edit {
	return append(edits(put(&timeline.Person{Base: base{ID: "op"}, Name: "R. Example", Role: timeline.Operator, Licence: "17", Age: 40},
		&timeline.Person{Base: base{ID: "sp"}, Name: "S. Example", Role: timeline.Spotter}),
		field("night", "n", "crew", "op;sp"), field("night", "n", "date", date)), more...)
}

func TestLicenceExpiry(t *testing.T) {
	ends := func(date string) timeline.Edit { return field("person", "op", "expires", date) }
	runNight(t, "licence-expiry", []nightCase{
		{"on its last day", crewed("2031-05-09", ends("2031-05-09")), nil},
		{"a day later", crewed("2031-05-10", ends("2031-05-09")), []string{"person:op: the licence of R. Example (operator) ended on 2031-05-09, and the night is on 2031-05-10"}},
		{"a year before", crewed("2031-01-01", ends("2030-12-31")), []string{"person:op"}},
		{"somebody else works", crewed("2031-05-10", ends("2031-05-09"), field("night", "n", "crew", "sp")), nil},
		{"no date of the night", crewed("", ends("2031-05-09")), nil},
		{"no last day", crewed("2031-05-10"), nil},
		{"a spotter's", crewed("2031-05-10", field("person", "sp", "expires", "2031-05-09")), []string{"person:sp: (spotter)"}},
	})
	runNight(t, "ends-soon", []nightCase{
		{"on the day", crewed("2031-05-09", ends("2031-05-09")), []string{"person:op: ends on 2031-05-09, the day of the night"}},
		{"within 30 days", crewed("2031-05-09", ends("2031-06-08")), []string{"person:op: the licence of R. Example (operator) ends on 2031-06-08, 30 days after the night"}},
		{"a day more", crewed("2031-05-09", ends("2031-06-09")), nil},
		{"ended before", crewed("2031-05-09", ends("2031-05-08")), nil},
		{"an article on site", crewed("2031-05-09", field("article", "jet", "expires", "2031-05-10")), []string{"article:jet: 1 day after the night"}},
		{"a permit", crewed("2031-05-09", field("night", "n", "permits", `fire number=7 until=2031-05-10`)), []string{"night:n: the night's permit fire ends on 2031-05-10"}},
		{"of one's own", crewed("2031-05-09", ends("2031-05-17"), put(&timeline.Setting{Base: base{ID: "ends-soon"}, Values: []string{"days=7"}})), nil},
	})
	runNight(t, "permit-expiry", []nightCase{
		{"on its last day", crewed("2031-05-09", field("night", "n", "permits", "fire until=2031-05-09")), nil},
		{"a day later", crewed("2031-05-10", field("night", "n", "permits", "harbour;fire until=2031-05-09")), []string{"night:n: the night's permit fire ended on 2031-05-09"}},
		{"of the venue", crewed("2031-05-10", field("venue", "v", "permits", "house until=2031-05-09")), []string{"venue:v: the venue's permit house ended"}},
		{"the insurance", crewed("2031-05-10", field("show", "show", "insurance", `"public liability" number=3 until=2031-05-09`)), []string{"show:show: the insurance public liability ended"}},
		{"no last day", crewed("2031-05-10", field("night", "n", "permits", "fire")), nil},
		{"no date", crewed("", field("night", "n", "permits", "fire until=2000-01-01")), nil},
	})
}

// Directive 2013/29/EU, article 7: ages F1 12, F2 16, F3 18, T1 18, P1 18. A year
// less is found, the age itself is not.
func TestAges(t *testing.T) {
	for category, least := range map[string]int{"F1": 12, "F2": 16, "F3": 18, "T1": 18, "P1": 18} {
		with := func(age int, more ...timeline.Edit) []timeline.Edit {
			return crewed("2031-05-09", append(edits(field("article", "comet", "category", category), field("person", "op", "age", fmt.Sprint(age))), more...)...)
		}
		runNight(t, "age", []nightCase{
			{category + " old enough", with(least), nil},
			{category + " a year less", with(least - 1), []string{fmt.Sprintf("person:op: comet: R. Example (operator) is %d, and category %s asks for %d years", least-1, category, least)}},
			{category + " an assistant", with(least-1, field("person", "op", "role", "assistant")), []string{"person:op: (assistant)"}},
			{category + " a spotter", with(least-1, field("person", "op", "role", "spotter")), nil},
			{category + " not given", with(0), nil},
			{category + " not on site", with(least-1, field("night", "n", "rig-changes", "placed=c1 out;placed=c2 out")), nil},
		})
	}
	runNight(t, "age", []nightCase{{"no category", crewed("2031-05-09", field("person", "op", "age", "3")), nil}})
}

func TestSpecialist(t *testing.T) {
	is := func(category string, more ...timeline.Edit) []timeline.Edit {
		return crewed("2031-05-09", append(edits(field("article", "comet", "category", category)), more...)...)
	}
	none := field("person", "op", "licence", "")
	runNight(t, "specialist", []nightCase{
		{"an operator with a licence", is("T2"), nil},
		{"without", is("T2", none), []string{"night:n: comet (T2): for persons with special knowledge alone, and no operator"}},
		{"F4", is("f4", none), []string{"night:n: comet (f4)"}},
		{"T1", is("T1", none), nil},
		{"nobody is named", is("T2", none, field("night", "n", "crew", "")), nil},
		{"a spotter's licence", is("P2", none, field("person", "sp", "licence", "3")), []string{"night:n"}},
	})
}

// Licences and ages against looking at every person and article by hand.
func TestCrewRulesEqualTheirSlowTwins(t *testing.T) {
	days := []string{"", "2030-12-31", "2031-01-01", "2031-01-31", "2031-03-01"}
	least := map[string]int{"F1": 12, "F2": 16, "F3": 18, "T1": 18, "P1": 18, "F4": 18, "T2": 18, "P2": 18}
	rapid.Check(t, func(rt *rapid.T) {
		n := &timeline.Night{Base: base{ID: "n"}, Slug: "n", Date: rapid.SampledFrom(days).Draw(rt, "date")}
		categories := map[timeline.ID]string{}
		list := edits()
		for _, a := range []timeline.ID{"jet", "comet", "flame", "sparks", "bang"} {
			categories[a] = rapid.SampledFrom([]string{"", "F1", "F2", "F3", "F4", "T1", "T2", "P1", "P2"}).Draw(rt, "category")
			list = append(list, field("article", a, "category", categories[a]))
		}
		late, young := map[string]bool{}, map[string]bool{}
		licensed := false
		for i := range rapid.IntRange(0, 4).Draw(rt, "persons") {
			p := &timeline.Person{Base: base{ID: timeline.ID(fmt.Sprint("p", i))}, Role: rapid.SampledFrom([]timeline.Role{timeline.Operator, timeline.Assistant, timeline.Spotter}).Draw(rt, "role"),
				Expires: rapid.SampledFrom(days).Draw(rt, "expires"), Age: rapid.IntRange(10, 20).Draw(rt, "age"), Licence: rapid.SampledFrom([]string{"", "x"}).Draw(rt, "licence")}
			list = append(list, put(p))
			if !rapid.Bool().Draw(rt, "works") {
				continue
			}
			n.Crew = append(n.Crew, p.ID)
			licensed = licensed || p.Role == timeline.Operator && p.Licence != ""
			if n.Date != "" && p.Expires != "" && strings.Compare(p.Expires, n.Date) < 0 {
				late[string(p.ID)] = true
			}
			for _, c := range categories {
				if p.Role != timeline.Spotter && p.Age < least[c] {
					young[string(p.ID)] = true
				}
			}
		}
		special := false
		for _, c := range categories {
			special = special || c == "F4" || c == "T2" || c == "P2"
		}
		s := stage(t, append(list, put(n))...)
		all := Check(timeline.Compile(s, s.Night("n")), Facts{})
		for name, want := range map[string]map[string]bool{"licence-expiry": late, "age": young} {
			got := map[string]bool{}
			for _, f := range ofRule(name, all) {
				got[string(f.Ref.ID)] = true
			}
			require.Equal(rt, sortedKeys(want), sortedKeys(got), name)
		}
		require.Equal(rt, special && len(n.Crew) > 0 && !licensed, len(ofRule("specialist", all)) == 1)
	})
}

// Notice of 7 days before 2031-05-09 must be given by 2031-05-02
// (regulations of Victoria: 7 days); today is a fact handed in.
func TestNotice(t *testing.T) {
	at := func(today string, more ...timeline.Edit) []Finding {
		s := stage(t, append(edits(put(&timeline.Venue{Base: base{ID: "v"}, Name: "Low Hall", Slug: "v", RuleSet: "victoria-2011"}),
			put(&timeline.Night{Base: base{ID: "n"}, Name: "night", Slug: "n", Venue: "v", Date: "2031-05-09"})), more...)...)
		return Check(timeline.Compile(s, s.Night("n")), Facts{Today: today})
	}
	told := func(date string) timeline.Edit { return field("night", "n", "notified", date) }
	for _, c := range []struct {
		name, rule string
		found      []Finding
		want       []string
	}{
		{"in time", "notice-missed", at("2031-05-20", told("2031-05-02")), nil},
		{"a day late", "notice-missed", at("", told("2031-05-03")), []string{"night:n: 7 days of notice must be given by 2031-05-02, and it was given on 2031-05-03"}},
		{"the last day", "notice-missed", at("2031-05-02"), nil},
		{"the day after", "notice-missed", at("2031-05-03"), []string{"night:n: by 2031-05-02, and on 2031-05-03 it is not"}},
		{"nobody says what day it is", "notice-missed", at(""), nil},
		{"due", "notice-due", at("2031-04-18"), []string{"night:n: 7 days of notice must be given by 2031-05-02: 14 days left"}},
		{"not yet", "notice-due", at("2031-04-17"), nil},
		{"on the last day", "notice-due", at("2031-05-02"), []string{"night:n: 0 days left"}},
		{"too late is not due", "notice-due", at("2031-05-03"), nil},
		{"told", "notice-due", at("2031-04-25", told("2031-04-24")), nil},
		{"the venue asks earlier", "notice-missed", at("2031-05-02", field("venue", "v", "notice", "10")), []string{"night:n: 10 days of notice must be given by 2031-04-29"}},
		{"the venue asks later", "notice-missed", at("2031-05-02", field("venue", "v", "notice", "2")), nil},
		{"business days", "notice-missed", at("2031-05-02", field("venue", "v", "rule-set", "south-australia")), []string{"night:n: 5 clear business days of notice must be given by 2031-05-01"}},
		{"nothing asked", "notice-missed", at("2031-05-09", field("venue", "v", "rule-set", "")), nil},
		{"no date", "notice-missed", at("2031-05-09", field("night", "n", "date", "")), nil},
	} {
		t.Run(c.name, func(t *testing.T) { requireFindings(t, c.want, ofRule(c.rule, c.found)) })
	}
	require.Condition(t, func() bool {
		for _, f := range ofRule("not-checked", at("")) {
			if strings.Contains(f.Text, "today, and the day of notice, which must be by 2031-05-02 (notice-missed)") {
				return true
			}
		}
		return false
	})
}

// Notice against trying every day: missed and due never at once, and one of
// them exactly where the day lies past the last one in time, or near before it.
func TestNoticeRulesEqualTheirSlowTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		night := timeline.Day(rapid.IntRange(20_000, 23_000).Draw(rt, "night"))
		today := night + timeline.Day(rapid.IntRange(-60, 5).Draw(rt, "today"))
		days, kind := rapid.IntRange(1, 20).Draw(rt, "days"), rapid.SampledFrom([]timeline.NoticeKind{timeline.CalendarDays, timeline.ClearBusiness}).Draw(rt, "kind")
		v := &timeline.Venue{Base: base{ID: "v"}, Slug: "v", Notice: timeline.Notice{Days: days, Kind: kind}}
		s := stage(t, put(v, &timeline.Night{Base: base{ID: "n"}, Slug: "n", Venue: "v", Date: night.String()}))
		all := Check(timeline.Compile(s, s.Night("n")), Facts{Today: today.String()})
		inTime := func(given timeline.Day) bool {
			clear := 0
			for d := given + 1; d < night; d++ {
				if d.Business() {
					clear++
				}
			}
			return kind == timeline.CalendarDays && int(night-given) >= days || kind == timeline.ClearBusiness && given < night && clear >= days
		}
		require.Equal(rt, !inTime(today), len(ofRule("notice-missed", all)) == 1)
		require.Equal(rt, inTime(today) && !inTime(today+15), len(ofRule("notice-due", all)) == 1)
	})
}
