package score

import (
	"fmt"
	"strings"
)

// Truth gives what is known about the songs as text to read: tempo, sections
// and stops, with places in bar.beat and times in seconds to the nearest
// nanosecond.
func Truth(songs []Song) string {
	var b strings.Builder
	for i, s := range songs {
		if i > 0 {
			b.WriteByte('\n')
		}
		s.describe(&b)
	}
	return b.String()
}

func (s Song) describe(b *strings.Builder) {
	fmt.Fprintf(b, "%s (%s), %s, %s, %d bars, %s s\n", s.Title, s.Slug, s.Key, s.Metre, s.Bars(), seconds(s.Length))
	for _, a := range s.Anchors {
		fmt.Fprintf(b, "  anchor  %d.%d at=%s tempo=%d\n", a.Bar, a.Beat, seconds(a.At), a.Tempo)
	}
	for _, x := range s.Sections {
		fmt.Fprintf(b, "  section bar %d, %d long, %s to %s: %s\n", x.Bar, x.Bars, seconds(x.From), seconds(x.To), x.Name)
	}
	for _, x := range s.Stops {
		fmt.Fprintf(b, "  stop    %s to %s\n", seconds(x.From), seconds(x.To))
	}
	drums := map[string]int{}
	var names []string
	for _, h := range s.Hits {
		if drums[h.Drum] == 0 {
			names = append(names, h.Drum)
		}
		drums[h.Drum]++
	}
	b.WriteString("  hits   ")
	for _, n := range names {
		fmt.Fprintf(b, " %s %d", n, drums[n])
	}
	b.WriteByte('\n')
}

// seconds writes a time with nine decimals, rounded to nearest.
func seconds(t Tick) string {
	const nano = 1_000_000_000
	whole, rest := t/Second, t%Second
	n := (rest*nano + Second/2) / Second
	if n == nano {
		whole, n = whole+1, 0
	}
	return fmt.Sprintf("%d.%09d", whole, n)
}
