package render

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"pgregory.net/rapid"
)

var allTypes = []Type{TypeCounter, TypeTitle, TypeLabel, TypeStrong, TypeSmall, TypeMark}

func TestFiguresHaveOneWidth(t *testing.T) {
	faces := NewFaces()
	for _, ty := range allTypes {
		for _, scale := range []Scale{80, 100, 125, 150, 200, 300} {
			f := faces.Face(ty, scale)
			for d := '1'; d <= '9'; d++ {
				require.Equal(t, f.Measure("0"), f.Measure(string(d)), "%v at %d: %c", ty, scale, d)
			}
			require.Equal(t, f.Measure("00:00:00:00"), f.Measure("23:59:59:29"))
		}
	}
}

// Measure skips kerning; here the library, which does not, has to agree on any text.
func TestMeasureAgreesWithTheDrawer(t *testing.T) {
	faces := NewFaces()
	for _, ty := range allTypes {
		f := faces.Face(ty, 150)
		for _, pair := range []string{"AV", "To", "Ty", "WA", "LT", "P.", "1.1", "ÄÖß", "сцена", "Ωμ", "×6", "–…→"} {
			require.Equal(t, libraryWidth(f, pair), f.Measure(pair), "%v: %s", ty, pair)
		}
	}
	f := faces.Face(TypeLabel, 100)
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOf(rapid.RuneFrom([]rune("AVWTPLYFaeoyv.,-0123456789 éåžЖΩ→×…\x00"))).Draw(t, "text")
		if got, want := f.Measure(s), libraryWidth(f, s); got != want {
			t.Fatalf("%q: %d, library %d", s, got, want)
		}
		if f.MeasureBytes([]byte(s)) != f.Measure(s) {
			t.Fatal("bytes and string differ")
		}
	})
}

func libraryWidth(f *Face, s string) (w int) {
	f.With(func(face font.Face) { w = font.MeasureString(face, s).Round() })
	return w
}

func TestMeasureTakesBrokenText(t *testing.T) {
	f := NewFaces().Face(TypeLabel, 100)
	require.Equal(t, f.Measure("a\uFFFDb"), f.Measure("a\xffb"))
	require.Zero(t, f.Measure(""))
}

func TestFit(t *testing.T) {
	f := NewFaces().Face(TypeLabel, 100)
	cut, all := f.Fit("Ember", 1000)
	require.True(t, all)
	require.Equal(t, "Ember", cut)
	cut, all = f.Fit("Ember of the north", f.Measure("Ember…"))
	require.False(t, all)
	require.Equal(t, "Ember", cut)
	cut, all = f.Fit("Ember", 2)
	require.False(t, all)
	require.Empty(t, cut)
}

func TestFacesAreSharedBetweenGoroutines(t *testing.T) {
	faces := NewFaces()
	want := faces.Face(TypeLabel, 100)
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for _, text := range []string{"→", "Ω", "сцена", "12"} {
				f := faces.Face(TypeLabel, 100)
				if f != want || f.Measure(text) != libraryWidth(f, text) {
					t.Errorf("another face or width for %s", text)
				}
			}
		})
	}
	wg.Wait()
}
