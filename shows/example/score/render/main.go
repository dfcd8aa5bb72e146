// Command render writes the songs of the example show as sound files.
//
// With -out it writes WAV files to a folder; with -ogg it has oggenc make
// Ogg Vorbis files there, with a serial number drawn from the song's slug, so
// that the same score gives the same bytes. With -truth it prints what the
// score says about each song.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"hash/fnv"
	"os"
	"os/exec"
	"path/filepath"

	"emberbeat/shows/example/score"
)

func main() {
	wav := flag.String("out", "", "write WAV files to this `folder`")
	ogg := flag.String("ogg", "", "write Ogg Vorbis files to this `folder` (needs oggenc)")
	truth := flag.Bool("truth", false, "print tempo, sections and stops as text")
	only := flag.String("song", "", "render only the song with this `slug`")
	flag.Parse()
	if *truth {
		fmt.Print(score.Truth(score.Songs()))
		return
	}
	if err := run(*wav, *ogg, *only); err != nil {
		fmt.Fprintln(os.Stderr, "render:", err)
		os.Exit(1)
	}
}

func run(wav, ogg, only string) error {
	if wav == "" && ogg == "" {
		return fmt.Errorf("nothing to write: give -out or -ogg a folder, or -truth")
	}
	found := false
	for _, s := range score.Songs() {
		if only != "" && s.Slug != only {
			continue
		}
		found = true
		if err := write(s, wav, ogg); err != nil {
			return fmt.Errorf("%s: %w", s.Slug, err)
		}
	}
	if !found {
		return fmt.Errorf("there is no song %q", only)
	}
	return nil
}

func write(s score.Song, wav, ogg string) error {
	fmt.Printf("rendering %s, %.1f s\n", s.Title, s.Length.Seconds())
	var b bytes.Buffer
	if err := score.WriteWAV(&b, score.Render(s)); err != nil {
		return err
	}
	if wav != "" {
		if err := put(filepath.Join(wav, s.Slug+".wav"), b.Bytes()); err != nil {
			return err
		}
	}
	if ogg == "" {
		return nil
	}
	return encode(s, &b, filepath.Join(ogg, s.Slug+".ogg"))
}

func put(path string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return err
	}
	return os.WriteFile(path, data, 0o666)
}

// encode has oggenc write the file. A random serial number, its default,
// would change the bytes on every run.
func encode(s score.Song, wav *bytes.Buffer, path string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return err
	}
	serial := fnv.New32a()
	serial.Write([]byte(s.Slug))
	cmd := exec.Command("oggenc", "--quiet", "--quality", "4",
		"--serial", fmt.Sprint(serial.Sum32()&0x7fffffff),
		"--title", s.Title, "--artist", score.Artist,
		"--comment", "SCORE="+s.Digest, "--output", path, "-")
	cmd.Stdin = wav
	cmd.Stderr = os.Stderr
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("oggenc: %w", err)
	}
	return nil
}
