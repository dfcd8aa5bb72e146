package crewpage

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows"
	"emberbeat/shows/example"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
	_ "emberbeat/timeline/testtool"
)

// exampleNight gives what a page of the example's night is made of.
func exampleNight(t testing.TB) Ask {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "demo")
	require.NoError(t, example.CopyTo(dir))
	l, err := shows.Load(dir)
	require.NoError(t, err)
	p := timeline.Compile(l.Show, l.Show.Nights[0])
	return Ask{Plan: p, Found: rule.Check(p, rule.Facts{}), Made: "12 June 2031 14:10"}
}

// written makes a page and writes it into a file.
func written(t testing.TB, a Ask) (*Page, string) {
	t.Helper()
	pg, err := New(a)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, pg.Write(&b))
	path := filepath.Join(t.TempDir(), "show.html")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
	return pg, path
}

// A crew member opens the example on a phone, plays, goes on by bars, chooses a role.
func TestPhone(t *testing.T) {
	_, path := written(t, exampleNight(t))
	b := startChromium(t)
	b.screen(360, 640, true)
	b.open(path)
	b.shot("phone-songs")
	b.click("button.song[data-song='1']")
	b.shot("phone-now")
	b.eval("document.getElementById('typed').value='01:00:14:00';document.getElementById('goto').requestSubmit()", nil)
	b.click("#play")
	b.until("document.getElementById('code').textContent > '01:00:16:10'")
	b.click("#play")
	b.shot("phone-played")
	b.eval("document.getElementById('stage').scrollIntoView()", nil)
	b.shot("phone-picture")
	b.click("nav [data-tab=sheets]")
	b.shot("phone-sheets")
	b.click("nav [data-tab=night]")
	b.shot("phone-night")
	b.screen(1440, 900, false)
	b.click("nav [data-tab=now]")
	b.until("true")
	b.shot("laptop-now")
	console, requests := b.quiet()
	require.Empty(t, console)
	require.Empty(t, requests)
}
