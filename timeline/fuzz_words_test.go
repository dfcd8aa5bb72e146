package timeline

import (
	"testing"

	"emberbeat/timeline/field"
)

// Whatever is typed as a stride is refused, or reads back as itself.
func FuzzParseStride(f *testing.F) {
	for _, s := range []string{"1bar", "4 bars", "2 beats", "3/2 beats", "0.5s", "1:02.5s", "", "-1 bar"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		stride, err := ParseStride(s)
		if err != nil {
			return
		}
		back, err := ParseStride(stride.String())
		if err != nil || back != stride {
			t.Fatalf("%q gives %+v, whose text %q gives %+v, %v", s, stride, stride, back, err)
		}
	})
}

// Whatever is typed as an assignment is refused, or names its field and keeps
// all of its text.
func FuzzParseAssignment(f *testing.F) {
	for _, s := range []string{"lead=0.12", "members+=j1", "members-=j1", "note=", "=", "a", "a=b=c"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := ParseAssignment(s)
		if err != nil {
			return
		}
		op := "="
		if a.Op != AssignSet {
			op = string(rune(a.Op)) + "="
		}
		if a.Field+op+a.Text != s {
			t.Fatalf("%q gives %+v", s, a)
		}
		field.Split(a.Text)
	})
}

// Whatever is typed as a distance is refused, or reads back as itself.
func FuzzParseDistance(f *testing.F) {
	for _, s := range []string{"audience at-least=4.572 fallout-times=2", "persons at-least=3 families=flash-pot clause=r.152", `performers at-least=1e3 articles=a,b clause="a = b"`, "audience at-least=NaN", "", "audience at-least=-0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := ParseDistance(s)
		if err != nil {
			return
		}
		if back, err := ParseDistance(d.String()); err != nil || back.String() != d.String() {
			t.Fatalf("%q gives %+v, whose text %q gives %+v, %v", s, d, d, back, err)
		}
	})
}

// And so is a mark of the stage plan.
func FuzzParsePlanMark(f *testing.F) {
	for _, s := range []string{"singer at=0,2 radius=1", "singer at=-1.5,2 song=ember from=62 to=1:20", `"" at=0,0`, "x at=1,1 to=3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := ParsePlanMark(s)
		if err != nil {
			return
		}
		if back, err := ParsePlanMark(m.String()); err != nil || back != m {
			t.Fatalf("%q gives %+v, whose text %q gives %+v, %v", s, m, m, back, err)
		}
	})
}
