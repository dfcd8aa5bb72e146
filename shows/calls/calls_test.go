package calls

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

func entry(kind Kind, cue timeline.ID, loads ...string) Entry {
	return Entry{When: time.Date(2031, 5, 9, 21, 14, 3, 0, time.UTC), Kind: kind, Song: "ember", Title: "Ember", At: "03:00:10:00", Bar: "6.1", Cue: cue, Name: "Mines, Lip left", Loads: loads}
}

// What is added is read again, in order, for each night by itself.
func TestAddAndRead(t *testing.T) {
	dir := t.TempDir()
	night := &timeline.Night{Slug: "first"}
	list, err := Read(dir, night)
	require.NoError(t, err)
	require.Empty(t, list)
	for _, e := range []Entry{entry(Hold, ""), entry(Missed, "m1", "bank-a:7"), entry(Release, "")} {
		require.NoError(t, Add(dir, night, e))
	}
	require.NoError(t, Add(dir, nil, entry(Hold, "")))
	list, err = Read(dir, night)
	require.NoError(t, err)
	require.Equal(t, []Entry{entry(Hold, ""), entry(Missed, "m1", "bank-a:7"), entry(Release, "")}, list)
	list, err = Read(dir, nil)
	require.NoError(t, err)
	require.Len(t, list, 1)
	require.FileExists(t, filepath.Join(dir, "calls", "night-first.log"))
	require.FileExists(t, filepath.Join(dir, "calls", "tour.log"))
}

// A line that was cut short is told with its place; what stands before and after it
// is read.
func TestDamagedLine(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, Add(dir, nil, entry(Hold, "")))
	path := filepath.Join(dir, File(nil))
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, append(append(b, b[:20]...), '\n'), 0o644))
	require.NoError(t, Add(dir, nil, entry(Release, "")))
	list, err := Read(dir, nil)
	require.Len(t, list, 2)
	require.ErrorContains(t, err, "calls/tour.log:2 is no line of the log of marks")
}

// A folder that cannot be written is told, and not made.
func TestNoFolder(t *testing.T) {
	file := filepath.Join(t.TempDir(), "show")
	require.NoError(t, os.WriteFile(file, nil, 0o644))
	require.ErrorContains(t, Add(file, nil, entry(Hold, "")), "the log of marks cannot be written")
}

// The offer has each missed cue once, none that was taken back, and no output of
// which it is entered already what became of it.
func TestOffer(t *testing.T) {
	show := timeline.NewShow("demo", "Demo", timeline.Rate25)
	a, b := "bank-a:7", "bank-a:8"
	show, err := show.Edit(func(d *timeline.Draft) error {
		bank := timeline.KindOf("bank").New("bank-a").(*timeline.Bank)
		bank.Name = "Bank A"
		night := timeline.KindOf("night").New("n1").(*timeline.Night)
		night.Name, night.Slug = "First", "first"
		night.Outcomes = []timeline.Outcome{{Driver: "bank-a", Output: 8, State: timeline.Fired, Placed: "p", Article: "x", Pieces: 1}}
		d.Put("", bank, night)
		return nil
	})
	require.NoError(t, err)
	p := timeline.Compile(show, show.Night("n1"))
	o := Of(p, []Entry{entry(Hold, ""), entry(Missed, "m1", a), entry(Missed, "m1", a), entry(Missed, "m2", b), entry(Missed, "m3"), entry(Missed, "m4", "bank-z:1"), entry(Back, "m3"), entry(Release, "")})
	require.Equal(t, []string{a}, o.Unfired)
	require.Equal(t, "bank-a:7", o.Text())
	require.Equal(t, []string{"held in Ember at 6.1 (03:00:10:00)", "marked missed in Ember at 6.1 (03:00:10:00): Mines, Lip left, loaded at Bank A:7",
		"marked missed in Ember at 6.1 (03:00:10:00): Mines, Lip left",
		"marked missed in Ember at 6.1 (03:00:10:00): Mines, Lip left, loaded at bank-z:1, which is not in the show any more", "released in Ember at 6.1 (03:00:10:00)"}, o.Lines)
	var text strings.Builder
	require.NoError(t, o.WriteText(&text))
	require.Contains(t, text.String(), "where it is so, enter them with: --unfired bank-a:7\n")
	var none *Offer
	require.NoError(t, none.WriteText(&text))
}
