package testtool

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	_ "pgregory.net/rapid" // brings the flag that is set below
)

// SeedEnv names the environment variable that holds another seed for all
// random walks: a whole number above 0.
const SeedEnv = "EMBERBEAT_SEED"

// usualSeed is where random walks start unless a seed is given: the same today
// and tomorrow, so that no test passes or fails by luck.
const usualSeed = 1

// Properties that package rapid checks would start from the clock. Importing
// this package, by a blank import if need be, makes them start from the seed;
// rapid's own -rapid.seed and RAPID_SEED go before it.
func init() {
	seed, err := readSeed(os.Getenv(SeedEnv))
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	if os.Getenv("RAPID_SEED") == "" {
		if err := flag.Set("rapid.seed", strconv.FormatUint(seed, 10)); err != nil {
			panic(err) // rapid has another flag now
		}
	}
}

func readSeed(text string) (uint64, error) {
	if text == "" {
		return usualSeed, nil
	}
	seed, err := strconv.ParseUint(text, 10, 64)
	if err != nil || seed == 0 {
		return 0, fmt.Errorf("%s=%s: it takes a whole number above 0", SeedEnv, text)
	}
	return seed, nil
}

// Seed is the number that a test's own random walk starts from: that of
// EMBERBEAT_SEED, else always the same. A test that asked for it and fails says
// how to walk the same way again.
func Seed(t testing.TB) uint64 {
	t.Helper()
	seed, err := readSeed(os.Getenv(SeedEnv))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("to walk the same way again: %s=%d go test -count=1 -run '^%s$'", SeedEnv, seed, t.Name())
		}
	})
	return seed
}

// Random is chance for a test's own walk: the same for the same seed and
// number; see Seed. It serves one goroutine.
func Random(t testing.TB, number uint64) *rand.Rand {
	t.Helper()
	return rand.New(rand.NewPCG(Seed(t), number))
}
