package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"emberbeat/audio"
	"emberbeat/shows"
	"emberbeat/shows/intake"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// tableFlags say how the rows of a table become cues.
type tableFlags struct {
	mapping, only, means         []string
	lane, target, article, comma string
	names                        int
	command, skipBad             bool
}

func (f *tableFlags) flags(c *cobra.Command) {
	g := c.Flags()
	g.StringArrayVar(&f.mapping, "map", nil, "which column of a table holds what: FIELD=COLUMN, such as timecode=Time; once for each")
	g.StringArrayVar(&f.only, "only", nil, "take only rows of a table where COLUMN=TEXT, or things of a drawing by name, number, type or group (* for anything); once for each")
	g.StringArrayVar(&f.means, "means", nil, "what a name of a table or drawing is in the show: NAME=OURS; once for each")
	g.StringVar(&f.lane, "lane", "", "lane of rows that name none (default: one with the target's name)")
	g.StringVar(&f.target, "target", "", "placed effect or group of rows that name none")
	g.StringVar(&f.article, "article", "", "article of rows that name none (default: the placed effect's)")
	g.BoolVar(&f.command, "command-times", false, "the table has the times of commands; hits come a lead later")
	g.StringVar(&f.comma, "separator", "", "what parts the columns of a table (default: found in the file)")
	g.IntVar(&f.names, "names-line", 0, "the line of a table with the names of its columns (default: found in the file)")
	g.BoolVar(&f.skipBad, "skip-bad", false, "place the rows that can be placed, and leave the others")
}

func (t *talk) importTable(dir, file string, im *importing) error {
	s, err := t.open(dir, im.dry)
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	p := s.Plan("")
	rows, err := im.readTable(p, file)
	if err != nil {
		return err
	}
	places, bad := countRows(rows)
	if err := t.printRows(rows); err != nil {
		return err
	}
	dry := im.dry || bad > 0 && !im.table.skipBad || places == 0
	_, err = t.apply(s, "import cues", dry, intake.PlaceCues(p, rows, func(kind string, song timeline.ID) timeline.ID {
		return shows.NewIDFor(p.Show, kind, song)
	}))
	if err != nil {
		return err
	}
	said := "placed"
	if dry {
		said = "could be placed; nothing is saved"
	}
	t.say("%d of %d rows %s", places, len(rows), said)
	switch {
	case bad > 0 && dry && !im.dry:
		t.say("%d rows cannot be placed: mend them, or place the others with --skip-bad", bad)
		return errFindings
	case bad > 0 || places == 0:
		return errFindings
	}
	return nil
}

// readTable reads a table and what its rows would do.
func (im *importing) readTable(p *timeline.Plan, file string) ([]intake.CueRow, error) {
	o, err := im.cueOptions(p)
	if err != nil {
		return nil, usage(err)
	}
	data, err := readAtMost(file, intake.MaxTableBytes)
	if err != nil {
		return nil, fileFailure(err)
	}
	to := intake.TableOptions{Names: im.table.names, Look: o.Mapping.Columns(), Any: intake.MappingFields()}
	if im.table.comma != "" {
		if to.Comma, err = intake.ParseSeparator(im.table.comma); err != nil {
			return nil, usage(err)
		}
	}
	table, err := intake.ReadTable(data, to)
	if err != nil && !is[*intake.NamesError](err) {
		return nil, fileFailure(fmt.Errorf("%s, read as a table, since it is neither a MIDI file nor a WAV file nor a GDTF or MVR file: %w", file, err))
	}
	var rows []intake.CueRow
	if err == nil {
		rows, err = table.Cues(p, o)
	}
	if err != nil {
		return nil, usage(fmt.Errorf("%s: %w", file, err))
	}
	return rows, nil
}

func (im *importing) cueOptions(p *timeline.Plan) (o intake.CueOptions, err error) {
	f := &im.table
	o = intake.CueOptions{Lane: f.lane, Target: f.target, Article: f.article, Command: f.command}
	if o.Mapping, err = intake.ParseMapping(f.mapping); err != nil {
		return o, err
	}
	if o.Only, err = readPairs("only", f.only); err != nil {
		return o, err
	}
	if o.Means, err = readPairs("means", f.means); err != nil {
		return o, err
	}
	if im.pick.song != "" {
		o.Song, err = p.FindSong(im.pick.song)
	}
	return o, err
}

// readAtMost reads a file that may not be larger than so many bytes.
func readAtMost(file string, most int64) ([]byte, error) {
	f, err := audio.OpenFile(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most+1))
}

func countRows(rows []intake.CueRow) (places, bad int) {
	for i := range rows {
		switch {
		case rows[i].Bad:
			bad++
		case rows[i].Places():
			places++
		}
	}
	return places, bad
}

// printRows says of each row what it would do.
func (t *talk) printRows(rows []intake.CueRow) error {
	return t.writeOut("", func(w io.Writer) error {
		if t.json {
			return wording.WriteJSON(w, jsonRows(rows))
		}
		for i := range rows {
			word := ""
			if rows[i].Bad {
				word = "cannot be placed: "
			}
			if _, err := fmt.Fprintf(w, "line %d: %s%s\n", rows[i].Line, word, rows[i].Says); err != nil {
				return err
			}
		}
		return nil
	})
}

type jsonRow struct {
	Line   int    `json:"line"`
	Places bool   `json:"places"`
	Bad    bool   `json:"bad"`
	Text   string `json:"text"`
}

func jsonRows(rows []intake.CueRow) any {
	list := make([]jsonRow, len(rows))
	for i := range rows {
		list[i] = jsonRow{rows[i].Line, rows[i].Places(), rows[i].Bad, rows[i].Says}
	}
	return struct {
		Rows []jsonRow `json:"rows"`
	}{list}
}
