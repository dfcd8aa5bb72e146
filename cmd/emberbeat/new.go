package main

import (
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/shows/example"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

func newCommand(t *talk) *cobra.Command {
	var (
		title, rate     string
		stock           string
		rig             bool
		isExample, dry  bool
		defaultRate     = timeline.Rate25
		folderIsNoTitle = map[string]bool{".": true, "..": true, string(filepath.Separator): true}
	)
	c := &cobra.Command{
		Use:   "new DIR",
		Short: "make a show, empty or the example",
		Long: `Make the folder of a new show. It must be new or empty.

A new show has no songs and no rig, but a stock to begin with: an article of
every family and some device and bank types, all invented and marked so. Change
them to what you own, or begin with --stock none; emberbeat stock copy brings
yours from another show. --rig adds a small rig of that stock, as invented as it
is: jets, comets and confetti, wired and in groups.

--example fills it with a small invented tour: songs with audio, a rig, sets, a
venue, a night, cues, and a few findings on purpose. It is yours to change.`,
		Example: `  emberbeat new my-tour --title "My Tour" --rate 29.97df
  emberbeat new own-stock --stock none
  emberbeat new first-try --rig
  emberbeat new demo --example`,
		Args: takes("DIR"),
		RunE: func(c *cobra.Command, args []string) error {
			dir := args[0]
			if isExample {
				if c.Flags().Changed("title") || c.Flags().Changed("rate") || c.Flags().Changed("stock") || rig {
					return usage(fmt.Errorf("the example brings its own title, rate and stock; change them later with emberbeat edit %s show title=…", dir))
				}
				return t.makeExample(dir, dry)
			}
			if title == "" {
				if title = filepath.Base(dir); folderIsNoTitle[title] {
					title = "Untitled"
				}
			}
			r, err := timeline.ParseRate(rate)
			if err != nil {
				return usage(err)
			}
			id := shows.NewID()
			s, err := timeline.NewShow(id, "", r).Edit(func(d *timeline.Draft) error {
				return d.Set(timeline.Ref{Kind: "show", ID: id}, "title", timeline.Value{Text: title})
			})
			if err != nil {
				return usage(err)
			}
			if rig && stock != starterStock {
				return usage(fmt.Errorf("--rig: the small rig is made of the starter stock; leave out --stock %s", stock))
			}
			if rig {
				s, err = shows.WithStarterRig(s)
			} else {
				s, err = stocked(s, stock)
			}
			if err != nil {
				return err
			}
			return t.makeShow(dir, s, dry)
		},
	}
	c.Flags().StringVar(&title, "title", "", "title of the show (default: the folder's name)")
	c.Flags().StringVar(&rate, "rate", defaultRate.String(), "timecode rate: "+rateNames())
	c.Flags().StringVar(&stock, "stock", starterStock, "stock to begin with: starter or none")
	c.Flags().BoolVar(&rig, "rig", false, "a small invented rig of it to begin with")
	c.Flags().BoolVar(&isExample, "example", false, "fill it with the example show")
	dryRunFlag(c, &dry)
	flagWords(c, "rate", rateWords()...)
	flagWords(c, "stock", starterStock, noStock)
	return c
}

// The words of --stock.
const (
	starterStock = operation.StarterStock
	noStock      = "none"
)

// stocked gives a new show the stock that a word names.
func stocked(s *timeline.Show, word string) (*timeline.Show, error) {
	switch word {
	case noStock:
		return s, nil
	case starterStock:
		stock, err := shows.Starter()
		if err != nil {
			return nil, err
		}
		return s.Edit(timeline.AddStock(stock))
	}
	return nil, usage(fmt.Errorf("--stock: %q is no stock to begin with; write %s or %s", word, starterStock, noStock))
}

func (t *talk) makeShow(dir string, s *timeline.Show, dry bool) error {
	if !dry {
		if err := shows.Create(dir, s); err != nil {
			return fileFailure(err)
		}
	}
	return t.made(dir, s, dry)
}

func (t *talk) makeExample(dir string, dry bool) error {
	if !dry {
		err := example.CopyTo(dir)
		if err == nil {
			err = shows.Ignore(dir)
		}
		if err != nil {
			return fileFailure(err)
		}
	}
	l, err := shows.LoadFrom(shows.FS(example.FS()))
	if err != nil {
		return err
	}
	return t.made(dir, l.Show, dry)
}

// made reports the new show.
func (t *talk) made(dir string, s *timeline.Show, dry bool) error {
	if !t.json {
		word := "made"
		if dry {
			word = "would make"
		}
		t.say("%s the show %q in %s: %d songs", word, s.Head.Title, dir, len(s.Songs))
		return nil
	}
	return t.writeOut("", func(w io.Writer) error {
		return wording.WriteJSON(w, struct {
			Dir   string `json:"dir"`
			Show  string `json:"show"`
			Rate  string `json:"rate"`
			Songs int    `json:"songs"`
			Made  bool   `json:"made"`
		}{dir, s.Head.Title, s.Head.Rate.String(), len(s.Songs), !dry})
	})
}
