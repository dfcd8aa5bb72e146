package rule

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// BenchmarkCheckAll compiles and checks 25 songs of 1,000 cues from nothing.
func BenchmarkCheckAll(b *testing.B) {
	s := bigShow(b, 25, 1000, 1)
	b.ReportAllocs()
	for b.Loop() {
		found := Check(timeline.Compile(s, nil), Facts{})
		b.ReportMetric(float64(len(found)), "findings")
	}
}

// BenchmarkCheckAfterEdit moves one cue of that show, compiles and checks.
func BenchmarkCheckAfterEdit(b *testing.B) {
	s := bigShow(b, 25, 1000, 1)
	compiler, checker := timeline.NewCompiler(), NewChecker()
	checker.Check(compiler.Compile(s, nil), Facts{})
	ref := timeline.Ref{Kind: "cue", Song: "song012", ID: "c00500"}
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		n++
		moved, err := s.Edit(setField(ref, "at", timeline.AtTime(ms(int64(100_000+n%50))).String()))
		require.NoError(b, err)
		s = moved
		checker.Check(compiler.Compile(s, nil), Facts{})
	}
}

// BenchmarkCheckLinear shows how compiling and checking one song grows with
// its cues.
func BenchmarkCheckLinear(b *testing.B) {
	for _, cues := range []int{1250, 2500, 5000, 10_000, 20_000} {
		s := bigShow(b, 1, cues, 1)
		b.Run(fmt.Sprint(cues), func(b *testing.B) {
			for b.Loop() {
				Check(timeline.Compile(s, nil), Facts{})
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(cues), "ns/cue")
		})
	}
}

// BenchmarkCheckAfterEditOfABadShow does the same where nearly every cue has a
// finding: the article's recovery was set ten times too long.
func BenchmarkCheckAfterEditOfABadShow(b *testing.B) {
	s, err := bigShow(b, 25, 1000, 1).Edit(field("article", "jet", "recovery", "60"), field("article", "flame", "recovery", "60"))
	require.NoError(b, err)
	compiler, checker := timeline.NewCompiler(), NewChecker()
	found := checker.Check(compiler.Compile(s, nil), Facts{})
	ref := timeline.Ref{Kind: "cue", Song: "song012", ID: "c00500"}
	n := 0
	for b.Loop() {
		n++
		s, err = s.Edit(setField(ref, "at", timeline.AtTime(ms(int64(100_000+n%50))).String()))
		require.NoError(b, err)
		found = checker.Check(compiler.Compile(s, nil), Facts{})
	}
	b.ReportMetric(float64(len(found)), "findings")
}

// BenchmarkCheckFestival compiles and checks 25 songs of 2,000 cues on about
// 400 outputs from nothing.
func BenchmarkCheckFestival(b *testing.B) {
	s := bigShow(b, 25, 2000, 1)
	b.ReportAllocs()
	for b.Loop() {
		Check(timeline.Compile(s, s.Night("n")), Facts{})
	}
}

// BenchmarkCheckFestivalAfterEdit moves one cue of that show.
func BenchmarkCheckFestivalAfterEdit(b *testing.B) {
	s := bigShow(b, 25, 2000, 1)
	compiler, checker := timeline.NewCompiler(), NewChecker()
	checker.Check(compiler.Compile(s, s.Night("n")), Facts{})
	ref := timeline.Ref{Kind: "cue", Song: "song012", ID: "c00500"}
	n := 0
	for b.Loop() {
		n++
		moved, err := s.Edit(setField(ref, "at", timeline.AtTime(ms(int64(100_000+n%50))).String()))
		require.NoError(b, err)
		s = moved
		checker.Check(compiler.Compile(s, s.Night("n")), Facts{})
	}
}

// BenchmarkCheckFestivalReordered swaps two songs of its running order.
func BenchmarkCheckFestivalReordered(b *testing.B) {
	s := bigShow(b, 25, 2000, 1)
	compiler, checker := timeline.NewCompiler(), NewChecker()
	checker.Check(compiler.Compile(s, s.Night("n")), Facts{})
	n := 0
	for b.Loop() {
		n++
		next, err := s.Edit(func(d *timeline.Draft) error {
			set := *d.Show().Set("main")
			set.Entries = slices.Clone(set.Entries)
			i, k := n%25, (n+12)%25
			set.Entries[i], set.Entries[k] = set.Entries[k], set.Entries[i]
			d.Put("", &set)
			return nil
		})
		require.NoError(b, err)
		s = next
		checker.Check(compiler.Compile(s, s.Night("n")), Facts{})
	}
}

// BenchmarkCheckNightLinear shows the same for a night in a venue, up to
// 200,000 cues in one song.
func BenchmarkCheckNightLinear(b *testing.B) {
	for _, cues := range []int{12_500, 25_000, 50_000, 100_000, 200_000} {
		s := bigShow(b, 1, cues, 1)
		b.Run(fmt.Sprint(cues), func(b *testing.B) {
			for b.Loop() {
				Check(timeline.Compile(s, s.Night("n")), Facts{})
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(cues), "ns/cue")
		})
	}
}
