package main

import (
	"context"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"emberbeat/audio"
	"emberbeat/audio/testsound"
	"emberbeat/shows"
	"emberbeat/shows/report/testshow"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){programName: main})
}

// The verbs, each by scripts that read like a session at a terminal.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       testshow.Updating(),
		Setup:               ownFolders,
		Condition:           conditions,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits, "clicks": clicks, "pieces": pieces, "filesize": fileSize, "sectoid": sectoid, "hold": hold, "hex": writeHex, "bigtour": bigTour, "gdtf": gdtf, "drawing": drawing, "plan": plan, "splice": splice, "named": named,
		},
	})
}

// ownFolders keeps a script away from the user's own state and cache.
func ownFolders(e *testscript.Env) error {
	e.Setenv("EMBERBEAT_STATE", filepath.Join(e.WorkDir, ".state"))
	e.Setenv("EMBERBEAT_CACHE", filepath.Join(e.WorkDir, ".cache"))
	e.Setenv("HOME", e.WorkDir)
	e.Setenv("TERM", "dumb")
	e.Setenv("DISPLAY", "")
	e.Setenv("WAYLAND_DISPLAY", "")
	return nil
}

func conditions(name string) (bool, error) {
	switch name {
	case "root":
		return os.Geteuid() == 0, nil
	case "sectoid":
		// Where all tools must be there, their lack fails the script.
		return len(sectoidSongs()) > 0 || os.Getenv("EMBERBEAT_REQUIRE_TOOLS") == "1", nil
	}
	return false, nil
}

// exits CODE COMMAND … runs a command and compares its exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND [ARGUMENTS]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	if ended, ok := err.(interface{ ExitCode() int }); ok {
		got = ended.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("%s: exit code %d, want %d", strings.Join(args[1:], " "), got, want)
	}
}

// clicks FILE SECONDS BPM writes a WAV file with a click on every beat, the
// first of four accented.
func clicks(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: clicks FILE SECONDS BPM")
	}
	seconds, err := strconv.Atoi(args[1])
	ts.Check(err)
	bpm, err := strconv.Atoi(args[2])
	ts.Check(err)
	ts.Check(testsound.WriteWAV16(ts.MkAbs(args[0]), clickRate, 1, clickTrack(seconds, bpm)))
}

const clickRate = 44100

func clickTrack(seconds, bpm int) []int16 {
	samples := make([]int16, seconds*clickRate)
	for beat := 0; ; beat++ {
		start := beat * clickRate * 60 / bpm
		if start >= len(samples) {
			return samples
		}
		loud := 12000
		if beat%4 == 0 {
			loud = 28000
		}
		for i := 0; i < 600 && start+i < len(samples); i++ { // a square wave of 2.2 kHz that dies away
			samples[start+i] = int16((1 - 2*(i/10%2)) * loud * (600 - i) / 600)
		}
	}
}

// pieces NEW OLD FROM-TO … writes a WAV file of stretches of a recording, in
// seconds; a stretch that begins with silence: is that many seconds of it.
func pieces(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 {
		ts.Fatalf("usage: pieces NEW OLD FROM-TO…")
	}
	p, err := audio.Decode(context.Background(), ts.MkAbs(args[1]), nil)
	ts.Check(err)
	var samples []int16
	for _, a := range args[2:] {
		var from, to float64
		if n, _ := fmt.Sscanf(a, "silence:%g", &to); n == 1 {
			samples = append(samples, make([]int16, int(to*float64(p.Rate))*p.Channels)...)
			continue
		}
		_, err := fmt.Sscanf(a, "%g-%g", &from, &to)
		ts.Check(err)
		samples = append(samples, p.Samples[int(from*float64(p.Rate))*p.Channels:int(to*float64(p.Rate))*p.Channels]...)
	}
	ts.Check(testsound.WriteWAV16(ts.MkAbs(args[0]), p.Rate, p.Channels, samples))
}

// hold DIR keeps a show open, as another program would, until the script ends.
func hold(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: hold DIR")
	}
	lock, err := shows.Lock(ts.MkAbs(args[0]))
	ts.Check(err)
	ts.Defer(lock.Unlock)
}

// hex FILE DIGITS writes a file of the bytes that the digits say.
func writeHex(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: hex FILE DIGITS…")
	}
	data, err := hex.DecodeString(strings.Join(args[1:], ""))
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), data, 0o644))
}

// filesize FILE MIN checks that a file has at least so many bytes.
func fileSize(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: filesize FILE MIN")
	}
	least, err := strconv.ParseInt(args[1], 10, 64)
	ts.Check(err)
	info, err := os.Stat(ts.MkAbs(args[0]))
	ts.Check(err)
	if info.Size() < least {
		ts.Fatalf("%s has %d bytes, fewer than %d", args[0], info.Size(), least)
	}
}

// sectoidSongs finds the recordings of Debian's fretsonfire-songs-sectoid.
func sectoidSongs() []string {
	found, _ := filepath.Glob("/usr/share/games/fretsonfire/data/songs/sectoid/*/song.ogg") // the pattern is legal
	return found
}

// sectoid DIR brings the four recordings into a folder as 1.ogg to 4.ogg.
func sectoid(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: sectoid DIR")
	}
	found := sectoidSongs()
	if len(found) != 4 {
		ts.Fatalf("%d of the 4 recordings of fretsonfire-songs-sectoid are installed", len(found))
	}
	ts.Check(os.MkdirAll(ts.MkAbs(args[0]), 0o755))
	for i, path := range found {
		data, err := os.ReadFile(path)
		ts.Check(err)
		ts.Check(os.WriteFile(filepath.Join(ts.MkAbs(args[0]), strconv.Itoa(i+1)+".ogg"), data, 0o644))
	}
}
