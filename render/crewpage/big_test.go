package crewpage

import (
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// A page of 25 songs of 1,000 cues each is small enough to be passed on without its
// sound. How long it takes to open is told and not judged: that hangs on the machine.
func TestBigShow(t *testing.T) {
	p := timeline.Compile(testshow.Big(t), nil)
	begun := time.Now()
	_, path := written(t, asked(p))
	info, err := os.Stat(path)
	require.NoError(t, err)
	t.Logf("%d songs: made in %.1f s, %.1f MB", len(p.Songs), time.Since(begun).Seconds(), float64(info.Size())/1e6)
	require.Len(t, p.Songs, 25)
	require.Less(t, info.Size(), int64(40_000_000))
	b := startChromium(t)
	b.screen(360, 640, true)
	begun = time.Now()
	b.open(path)
	b.until("document.documentElement.classList.contains('scripts')")
	t.Logf("opened in %.2f s", time.Since(begun).Seconds())
	begun = time.Now()
	b.click("button.song[data-song='24']")
	b.until("document.getElementById('code').textContent !== ''")
	t.Logf("its last song shown in %.2f s", time.Since(begun).Seconds())
	b.click("#play")
	var frames float64
	b.eval(`new Promise((yes) => { let n = 0; const from = performance.now(); const f = () => { n++; performance.now() - from < 2000 ? requestAnimationFrame(f) : yes(n / 2); }; requestAnimationFrame(f); })`, &frames)
	t.Logf("%.0f frames a second while it runs", frames)
	b.calm()
}
