package timeline

import "testing"

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
		splitItems(a.Text)
	})
}
