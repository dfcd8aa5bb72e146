package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/testsound"
)

// Every verb says what it does and shows how, in a line of a terminal's width.
func TestEveryVerbTeaches(t *testing.T) {
	for _, c := range newRoot(newTalk(nil, nil, nil)).Commands() {
		if c.Hidden {
			continue
		}
		require.NotEmpty(t, c.Short, c.Name())
		require.NotEmpty(t, c.Example, "%s has no example", c.Name())
		for _, line := range strings.Split(c.Long, "\n") {
			require.LessOrEqual(t, len([]rune(line)), 80, "%s: %s", c.Name(), line)
		}
	}
	for _, line := range strings.Split(guide, "\n") {
		require.LessOrEqual(t, len([]rune(line)), 100, line)
	}
}

// The examples in the help of the verbs run as they stand, each in a folder
// with the example show as tour and a recording as song.wav.
func TestHelpExamplesRun(t *testing.T) {
	heard := t.TempDir() // the songs are the same for all: they are listened to once
	for _, c := range newRoot(newTalk(nil, nil, nil)).Commands() {
		for _, line := range strings.Split(c.Example, "\n") {
			if strings.TrimSpace(line) == "" {
				continue
			}
			t.Run(strings.TrimSpace(line), func(t *testing.T) {
				inExampleFolder(t, true)
				t.Setenv("EMBERBEAT_CACHE", heard)
				writeGiven(t, line)
				if c.Name() == "open" { // there is no window here
					require.Equal(t, exitFile, runIn(t, shellWords(line)[1:]...))
					return
				}
				runLine(t, line)
			})
		}
	}
}

// The guide of emberbeat --help is one session that runs from top to bottom.
func TestGuideRuns(t *testing.T) {
	inExampleFolder(t, false)
	ran := 0
	for _, line := range strings.Split(guide, "\n") {
		if strings.HasPrefix(line, "  "+programName+" ") {
			// A gap of spaces ends the command, the rest says what it does.
			command, _, _ := strings.Cut(strings.TrimSpace(line), "  ")
			runLine(t, command)
			ran++
		}
	}
	require.Equal(t, 11, ran)
}

// clickRecording is the recording that the examples name, made once.
var clickRecording = sync.OnceValues(func() ([]byte, error) {
	dir, err := os.MkdirTemp("", "emberbeat-clicks")
	if err != nil {
		return nil, err
	}
	defer func() { _ = os.RemoveAll(dir) }()
	path := filepath.Join(dir, "song.wav")
	if err := testsound.WriteWAV16(path, clickRate, 1, clickTrack(60, 120)); err != nil {
		return nil, err
	}
	return os.ReadFile(path)
})

// inExampleFolder goes to a new folder that holds what examples name.
func inExampleFolder(t *testing.T, withShow bool) {
	dir := t.TempDir()
	t.Chdir(dir)
	t.Setenv("EMBERBEAT_STATE", filepath.Join(dir, ".state"))
	t.Setenv("EMBERBEAT_CACHE", filepath.Join(dir, ".cache"))
	t.Setenv("PATH", "")
	t.Setenv("DISPLAY", "")
	t.Setenv("WAYLAND_DISPLAY", "")
	recording, err := clickRecording()
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("song.wav", recording, 0o644))
	if withShow {
		require.Zero(t, runIn(t, "new", "tour", "--example"))
	}
}

// writeGiven writes what an example reads besides: a MIDI file of the first song
// and a recording of timecode.
func writeGiven(t *testing.T, line string) {
	if strings.Contains(line, "tour@1") {
		require.Zero(t, runIn(t, "edit", "tour", "show", "artist=Somebody else"))
	}
	if strings.Contains(line, " merge ") {
		for _, name := range []string{"before", "colleague", "joined"} {
			if strings.Contains(line, name) && !strings.Contains(line, "--out "+name) {
				require.Zero(t, runIn(t, "new", name, "--example"))
			}
		}
	}
	if strings.Contains(line, "import tour song.mid") {
		require.Zero(t, runIn(t, "export", "tour", "midi", "--song", "1", "--out", "song.mid"))
	}
	if strings.Contains(line, "import tour cues.csv") {
		require.NoError(t, os.WriteFile("cues.csv", []byte("Time,Effect\n01:00:20:00,Jet L\n01:00:21:00,Jet 2\n"), 0o644))
	}
	if strings.Contains(line, "compare tour cues.csv") {
		require.Zero(t, runIn(t, "export", "tour", "cue-list", "--out", "cues.csv", "--accept-open"))
	}
	if strings.Contains(line, "compare tour desk.csv") {
		require.NoError(t, os.WriteFile("desk.csv", []byte("Time,Pin\n01:00:20:00,P1-4\n"), 0o644))
	}
	if strings.Contains(line, "import tour notes-") {
		require.NoError(t, os.WriteFile("notes-5f0c9a81d2e34b67.json", []byte(`{"emberbeat_notes":1,"show":"copper-weather","notes":[]}`), 0o644))
	}
	if strings.Contains(line, "import tour bar.gdtf") {
		require.NoError(t, os.WriteFile("bar.gdtf", barArchive(), 0o644))
	}
	if strings.Contains(line, "import tour stage.mvr") {
		require.NoError(t, os.WriteFile("stage.mvr", sceneArchive(`<GeneralSceneDescription><Scene><Layers><Layer name="Pyro"><ChildList><Fixture name="Cold jet"/>
<Truss name="Mark A"/><Truss name="Mark B"><Matrix>{1,0,0}{0,1,0}{0,0,1}{12000,0,0}</Matrix></Truss></ChildList></Layer></Layers></Scene></GeneralSceneDescription>`), 0o644))
	}
	if strings.Contains(line, "--table rows.csv") {
		require.NoError(t, os.WriteFile("rows.csv", []byte("count,name,place,apart\n4,jets,wing,2\n"), 0o644))
	}
	if strings.Contains(line, "picture hall.png") {
		require.NoError(t, os.WriteFile("hall.png", planPNG(), 0o644))
	}
	if strings.Contains(line, "paste order.txt") {
		require.NoError(t, os.WriteFile("order.txt", []byte("1. Kettle Lightning\n2. Slow Matches 3:45\n"), 0o644))
	}
	if strings.Contains(line, "festival edit)") {
		require.Zero(t, runIn(t, "arrange", "tour", "new", "Slow Matches", "festival edit"))
	}
	if strings.Contains(line, "arrange tour share") {
		require.Zero(t, runIn(t, "arrange", "tour", "separate", "Slow Matches (festival edit)"))
	}
	if strings.Contains(line, `carry tour "new mixes"`) {
		require.NoError(t, os.Mkdir("new mixes", 0o755))
		require.NoError(t, os.Rename("song.wav", "new mixes/song.wav"))
	}
	if strings.Contains(line, "unpack tour.zip") {
		require.Zero(t, runIn(t, "pack", "tour", "--out", "tour.zip"))
	}
	if strings.Contains(line, "unphrase tour") {
		require.Zero(t, runIn(t, "phrase", "tour", "--song", "1", "--lane", "Jets up", "--group", "Jet 1", "--at", "3.1", "--until", "4.1", "--every", "2", "--name", "jets up"))
	}
	if strings.Contains(line, "timecode read ltc.wav") {
		require.Zero(t, runIn(t, "export", "tour", "ltc", "--song", "1", "--out", "ltc.wav"))
	}
}

// runLine runs a command line as a shell would read it. Exit code 1 is fine: it
// says that there are findings.
func runLine(t *testing.T, line string) {
	words := shellWords(line)
	require.Equal(t, programName, words[0])
	require.LessOrEqual(t, runIn(t, words[1:]...), exitFindings, line)
}

func runIn(t *testing.T, args ...string) int {
	var out, errs bytes.Buffer
	code := run(args, strings.NewReader(""), &out, &errs)
	if code > exitFindings {
		t.Logf("%s\n%s%s", strings.Join(args, " "), out.String(), errs.String())
	}
	return code
}

// shellWords splits at spaces outside double quotes.
func shellWords(line string) []string {
	var words []string
	word, inWord, quoted := "", false, false
	for _, c := range line {
		switch {
		case c == '"':
			quoted, inWord = !quoted, true
		case c == ' ' && !quoted:
			if inWord {
				words = append(words, word)
			}
			word, inWord = "", false
		default:
			word, inWord = word+string(c), true
		}
	}
	if inWord {
		words = append(words, word)
	}
	return words
}

// The manual page has every verb and flag, and man reads it without complaint.
func TestManPage(t *testing.T) {
	root := newRoot(newTalk(nil, nil, nil))
	page := manPage(root)
	for _, c := range root.Commands() {
		if !c.Hidden {
			require.Contains(t, page, ".SS "+roff(programName+" "+c.Use)+"\n")
		}
	}
	path := filepath.Join(t.TempDir(), "emberbeat.1")
	require.NoError(t, os.WriteFile(path, []byte(page), 0o644))
	out, errs := runTool(t, "man", "--warnings=w", "-E", "UTF-8", "-l", "-Tutf8", "-Z", path)
	require.Empty(t, errs)
	require.NotEmpty(t, out)
}

// Flags of one name are of one kind in every verb.
func TestFlagsAreAlike(t *testing.T) {
	type flagFacts struct{ kind, verb string }
	seen := map[string]flagFacts{}
	for _, c := range newRoot(newTalk(nil, nil, nil)).Commands() {
		for _, name := range []string{"json", "quiet", "verbose", "no-color", "no-input", "dry-run", "out", "song", "bars", "night", "title", "rate", "article", "open"} {
			f := c.Flag(name)
			if f == nil {
				continue
			}
			now := flagFacts{f.Value.Type(), c.Name()}
			if before, ok := seen[name]; ok {
				require.Equal(t, before.kind, now.kind, "--%s of %s and %s", name, before.verb, now.verb)
				continue
			}
			seen[name] = now
		}
	}
	require.Contains(t, seen, "night")
}
