package shows

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline/testtool"
)

// A revision whose first digits are all decimal ones is a revision, not the number of a save.
func TestRevisionOfDigitsAlone(t *testing.T) {
	testtool.Need(t, "git")
	t.Setenv(StateEnv, t.TempDir())
	t.Setenv("HOME", t.TempDir())
	for _, who := range []string{"AUTHOR", "COMMITTER"} {
		t.Setenv("GIT_"+who+"_NAME", "A")
		t.Setenv("GIT_"+who+"_EMAIL", "a@invalid")
		t.Setenv("GIT_"+who+"_DATE", "2001-02-03T04:05:06Z")
	}
	dir := filepath.Join(t.TempDir(), "tour")
	require.NoError(t, os.Mkdir(dir, 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "show.toml"), []byte("schema = 1\nid = \"abcdefgh\"\n"), 0o666))
	git := func(args ...string) string {
		out, err := Git(dir, args...)
		require.NoError(t, err)
		return strings.TrimSpace(out)
	}
	git("init", "-q")
	git("add", ".")
	git("commit", "-qm", "start")
	short := ""
	for i := range 1000 { // some 27 tries, the same ones on every machine
		git("commit", "-q", "--amend", "-m", fmt.Sprint("try ", i))
		if short = git("rev-parse", "HEAD")[:shortRevision]; strings.Trim(short, "0123456789") == "" {
			break
		}
	}
	require.Empty(t, strings.Trim(short, "0123456789"), "a revision of digits alone")

	at, v, err := Named(dir + "@" + short)
	require.NoError(t, err)
	require.Equal(t, dir, at)
	require.NotNil(t, v)
	require.Equal(t, short, v.Rev)

	_, _, err = Named(dir + "@7")
	require.ErrorContains(t, err, "no save 7")
	_, _, err = Named(dir + "@99999999")
	require.ErrorContains(t, err, "99999999")
}
