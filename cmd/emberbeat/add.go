package main

import (
	"fmt"
	"io"
	"path/filepath"
	"runtime/debug"

	"github.com/spf13/cobra"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

func addCommand(t *talk) *cobra.Command {
	var title string
	c := &cobra.Command{
		Use:   "add SHOW AUDIO",
		Short: "add a song and listen to it",
		Long: `Add a song for a recording: wav, flac, mp3 or ogg. The recording is copied into
the show, and listened to: tempo, bars and sections are a suggestion that you
confirm or correct with emberbeat edit SHOW song:NAME beats=… confirmed=yes.

The song gets the next free hour of timecode and the last place in the running
order.`,
		Example: `  emberbeat add tour song.wav --title "New Song"
  emberbeat add tour song.wav --json`,
		Args: takes("SHOW", "AUDIO"),
		RunE: func(c *cobra.Command, args []string) error {
			s, err := t.open(args[0], false)
			if err != nil {
				return err
			}
			defer s.Close() // cannot fail: there is no journal to close
			debug.SetMemoryLimit(softLimit)
			step, done := t.progress("listening to " + filepath.Base(args[1]))
			id, err := s.AddSong(c.Context(), args[1], title, step)
			done()
			if err != nil {
				return err
			}
			if err := t.save(s); err != nil {
				return err
			}
			for _, w := range s.RecordingWarnings() {
				t.warn("%s: %s", args[1], w)
			}
			return t.added(s.Plan(""), id)
		},
	}
	c.Flags().StringVar(&title, "title", "", "the song's title (default: the file's name)")
	return c
}

// added reports the new song.
func (t *talk) added(p *timeline.Plan, id timeline.ID) error {
	line, _ := report.NewSongList(p).Find(id)
	return t.writeOut("", func(w io.Writer) error {
		if t.json {
			return wording.WriteJSON(w, line)
		}
		_, err := fmt.Fprintln(w, "added "+line.String())
		return err
	})
}
