package testtool_test

import (
	"os"
	"os/exec"
	"regexp"
	"testing"

	"emberbeat/timeline/testtool"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// failEnv makes the walks below fail: a test starts this program again with it.
const failEnv = "EMBERBEAT_TEST_FAIL"

func TestWalkByHand(t *testing.T) {
	got := testtool.Random(t, 7).Uint64()
	require.Equal(t, got, testtool.Random(t, 7).Uint64())
	require.NotEqual(t, got, testtool.Random(t, 8).Uint64())
	require.Empty(t, os.Getenv(failEnv), "drew %d", got)
}

func TestWalkOfRapid(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.Uint64().Draw(r, "n")
		require.Empty(r, os.Getenv(failEnv), "drew %d", n)
	})
}

// fail runs a walk of this program so that it fails, and gives what it says.
func fail(t *testing.T, name string, env ...string) string {
	t.Helper()
	c := exec.Command(os.Args[0], "-test.run=^"+name+"$", "-rapid.nofailfile", "-rapid.shrinktime=0s")
	c.Env = append(os.Environ(), append(env, failEnv+"=1")...)
	out, err := c.CombinedOutput()
	require.Error(t, err, "%s", out)
	return string(out)
}

// drew is the number that a failed walk has drawn.
func drew(t *testing.T, said string) string {
	t.Helper()
	found := regexp.MustCompile(`drew \d+`).FindString(said)
	require.NotEmpty(t, found, said)
	return found
}

// A walk that fails tells its seed; without one it goes the same way always,
// with one that way.
func TestFailuresTellTheirSeed(t *testing.T) {
	for name, tells := range map[string]string{"TestWalkByHand": "EMBERBEAT_SEED=", "TestWalkOfRapid": "-rapid.seed="} {
		usual := fail(t, name, testtool.SeedEnv+"=")
		require.Contains(t, usual, tells+"1", name)
		require.Equal(t, drew(t, usual), drew(t, fail(t, name, testtool.SeedEnv+"=")), name)
		given := fail(t, name, testtool.SeedEnv+"=4711")
		require.Contains(t, given, tells+"4711", name)
		require.NotEqual(t, drew(t, usual), drew(t, given), name)
		require.Equal(t, drew(t, given), drew(t, fail(t, name, testtool.SeedEnv+"=4711")), name)
	}
	require.Contains(t, fail(t, "TestWalkByHand", testtool.SeedEnv+"=soon"), "takes a whole number above 0")
	require.Contains(t, fail(t, "TestWalkOfRapid", "RAPID_SEED=99"), "-rapid.seed=99")
}
