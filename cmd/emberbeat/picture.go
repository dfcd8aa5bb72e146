package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"emberbeat/render"
	"emberbeat/render/crewpage"
	"emberbeat/render/paper"
	"emberbeat/render/sheet"
	"emberbeat/shows/report"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// picturing is what the picture verb is asked to do.
type picturing struct {
	choice
	out, theme, format string
	width              int
}

func pictureCommand(t *talk) *cobra.Command {
	pic := &picturing{}
	c := &cobra.Command{
		Use:   "picture SHOW --song S --out FILE.png",
		Short: "draw a song's timeline as PNG or SVG",
		Long: `Draw a song's timeline: waveform, bars, lanes by stage position, cues with the
lead before them and the open time after them, density, findings. A FILE.svg is
written as SVG, its letters as outlines.`,
		Example: `  emberbeat picture tour --song 1 --out song.png
  emberbeat picture tour --song 1 --bars 1-8 --theme dark --out part.png
  emberbeat picture tour --song 1 --out song.svg`,
		Args: takes("SHOW"),
		RunE: func(c *cobra.Command, args []string) error {
			if pic.out == "" {
				return hint(usage(errors.New("no file is named for the picture")), "add --out FILE.png; --out - writes it to stdout")
			}
			t.sheet = "png" // a picture is in the show's units, as paper is
			s, err := t.open(args[0], true)
			if err != nil {
				return err
			}
			defer s.Close() // cannot fail: nothing was locked
			return t.draw(c.Context(), s, pic)
		},
	}
	pic.songFlag(c)
	pic.barsFlag(c)
	pic.nightFlag(c)
	outFlag(c, &pic.out)
	c.Flags().StringVar(&pic.theme, "theme", "day", "day, dark or night")
	c.Flags().StringVar(&pic.format, "format", "", "png or svg (default: as FILE ends, else png)")
	c.Flags().IntVar(&pic.width, "width", paper.DefaultWidth, "width in pixels")
	flagWords(c, "theme", "day", "dark", "night")
	flagWords(c, "format", "png", "svg")
	return c
}

func (t *talk) draw(ctx context.Context, s *session.Session, pic *picturing) error {
	p, f, err := pic.planFor(s.Show())
	if err != nil {
		return err
	}
	song, err := pic.songOf(p)
	if err != nil {
		return err
	}
	theme, err := themeNamed(pic.theme)
	if err != nil {
		return usage(err)
	}
	write, err := pic.writer()
	if err != nil {
		return usage(err)
	}
	ps := songIn(p, song.ID)
	view := render.SongView{Data: render.NewSongData(p.Show, ps.SongPlan), Foot: report.HeadOf(p).Line()}
	if f.Bars != nil {
		view.Show = render.Span{From: song.Beats.BarStart(f.Bars.From), To: song.Beats.BarStart(f.Bars.To + 1)}
	}
	t.sound(ctx, s, song, &view)
	_, found, err := checkPlan(ctx, s, p, "")
	if err != nil {
		return err
	}
	view.Marks = render.MarksOf(p.Show, ps, found)
	drawing := paper.Picture{View: view, Theme: theme, Width: pic.width}
	if _, err := drawing.Scene(render.NewFaces()); err != nil {
		return usage(err)
	}
	return t.writeOut(pic.out, func(w io.Writer) error { return write(w, render.NewFaces(), drawing) })
}

// writer gives what writes the picture's format.
func (pic *picturing) writer() (func(io.Writer, *render.Faces, paper.Picture) error, error) {
	format, err := formatFor(pic.format, pic.out, "png", sheet.Formats())
	if err != nil {
		return nil, err
	}
	switch format {
	case "png":
		return paper.WriteSong, nil
	case "svg":
		return paper.WriteSongSVG, nil
	}
	return nil, fmt.Errorf("a picture has no format %q; write png or svg", format)
}

// sound gives the view the song's peaks, or says why there are none.
func (t *talk) sound(ctx context.Context, s *session.Session, song *timeline.Song, view *render.SongView) {
	if song.Audio.Path == "" {
		view.Quiet = "the song has no audio yet"
		return
	}
	peaks, err := s.Peaks(ctx, &song.SongHead)
	if err != nil {
		view.Quiet = err.Error()
		if ctx.Err() == nil {
			t.warn("the waveform is missing: %v", err)
		}
		return
	}
	view.Peaks = crewpage.Sound{Pyramid: peaks}
}

func themeNamed(name string) (*render.Theme, error) {
	switch name {
	case "day":
		return &render.Day, nil
	case "dark":
		return &render.Dark, nil
	case "night":
		return &render.Night, nil
	}
	return nil, fmt.Errorf("%q is no theme; write day, dark or night", name)
}

// songIn finds a song in a plan that plays it.
func songIn(p *timeline.Plan, song timeline.ID) *timeline.PlanSong {
	for i := range p.Songs {
		if p.Songs[i].Song.ID == song {
			return &p.Songs[i]
		}
	}
	return nil
}
