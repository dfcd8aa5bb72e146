package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"runtime/debug"

	"github.com/spf13/cobra"

	"emberbeat/audio"
	"emberbeat/audio/ear"
	"emberbeat/audio/ltc"
	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/shows/session"
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
			debug.SetMemoryLimit(softLimit)
			return t.add(c.Context(), args[0], args[1], title, func() (*session.Heard, error) {
				step, done := t.progress("listening to " + filepath.Base(args[1]))
				defer done()
				return session.Listen(c.Context(), audio.OpenCache(""), args[1], ear.Locks{}, step)
			})
		},
	}
	c.Flags().StringVar(&title, "title", "", "the song's title (default: the file's name)")
	return c
}

// add adds a song for a recording. Others may work on the show while somebody
// listens, which can take minutes: it is locked before, to see whether the song
// would be taken at all, and afterwards to put it in.
func (t *talk) add(ctx context.Context, dir, file, title string, listen func() (*session.Heard, error)) error {
	s, err := t.open(dir, false)
	if err != nil {
		return err
	}
	err = s.Takes(file, title)
	_ = s.Close() // cannot fail: there is no journal to close
	if err != nil {
		return err
	}
	heard, err := listen()
	if err != nil {
		return err
	}
	s, err = session.Open(dir, session.Options{NoJournal: true, Told: t.told}) // what is odd in it was told before
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	id, err := s.AddHeard(ctx, file, title, heard)
	if err != nil {
		return err
	}
	if err := t.save(s); err != nil {
		return err
	}
	for _, w := range s.RecordingWarnings() {
		t.warn("%s: %s", file, w)
	}
	t.offerStart(s.Show(), id, heard.Timecode)
	return t.added(s.Plan(""), id)
}

// offerStart says how the song starts where the timecode on its recording says.
func (t *talk) offerStart(s *timeline.Show, id timeline.ID, found []ltc.Found) {
	for _, f := range found {
		start, ok := f.Start()
		switch {
		case !ok:
			continue
		case f.Rate != s.Head.Rate:
			t.say("the recording counts at %s and the show at %s: the song's start stays as it is", f.Rate, s.Head.Rate)
		default:
			t.say("to start the song where its recording says: emberbeat edit SHOW song:%s start=%s", id, start)
		}
		return
	}
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
