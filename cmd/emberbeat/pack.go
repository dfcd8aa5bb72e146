package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/audio"
	"emberbeat/shows"
	"emberbeat/shows/report/wording"
)

func packCommand(t *talk) *cobra.Command {
	var out string
	var o shows.PackOptions
	c := &cobra.Command{
		Use:   "pack SHOW --out FILE.zip",
		Short: "put a show and its recordings into one archive",
		Long: `Put a show's files, the notes beside them and the recordings its songs refer to
into one ZIP archive, to be sent to the crew or kept. The same show always gives
the same bytes. Recordings that are missing are named; the show still packs.`,
		Example: `  emberbeat pack tour --out tour.zip
  emberbeat pack tour --without-audio --out tour-text.zip`,
		Args: takes("SHOW"),
		RunE: func(c *cobra.Command, args []string) error {
			if out == "" {
				return hint(usage(fmt.Errorf("no file is named for the archive")), "add --out FILE.zip; --out - writes it to stdout")
			}
			if t.json {
				return usage(errNoJSON)
			}
			var packed *shows.Packed
			err := t.writeOut(out, func(w io.Writer) (err error) {
				packed, err = shows.Pack(c.Context(), args[0], w, o)
				return err
			})
			if err != nil {
				return err
			}
			t.say("%d files, %d bytes unpacked", len(packed.Files), packed.Bytes)
			for _, name := range packed.Missing {
				t.warn("the recording %s is not in the show's folder and not in the archive", name)
			}
			return nil
		},
	}
	c.Flags().BoolVar(&o.WithoutAudio, "without-audio", false, "leave the recordings out")
	outFlag(c, &out)
	return c
}

func unpackCommand(t *talk) *cobra.Command {
	return &cobra.Command{
		Use:   "unpack FILE.zip DIR",
		Short: "make a show's folder from an archive",
		Long: `Make the folder of a show from an archive of emberbeat pack, or a ZIP archive
made of a show's folder by other means. The folder must be new or empty, and
appears once the show in it has been read.

An archive is refused as a whole if it has a path that leaves the folder, a
link, two files of one name, encryption, or sizes that no show has. Files that
belong to no show stay in the archive and are named.`,
		Example: "  emberbeat unpack tour.zip tour-again",
		Args:    takes("FILE.zip", "DIR"),
		RunE: func(c *cobra.Command, args []string) error {
			u, err := unpackFile(c, args[0], args[1])
			if err != nil {
				return err
			}
			for _, name := range u.Skipped {
				t.warn("%s belongs to no show and was not unpacked", name)
			}
			return t.writeOut("", func(w io.Writer) error {
				if t.json {
					return wording.WriteJSON(w, struct {
						Title   string   `json:"title"`
						Files   []string `json:"files"`
						Skipped []string `json:"skipped"`
					}{u.Show.Show.Head.Title, u.Files, append([]string{}, u.Skipped...)})
				}
				_, err := fmt.Fprintf(w, "%s: %d files\n%s\n", u.Show.Show.Head.Title, len(u.Files), strings.Join(u.Files, "\n"))
				return err
			})
		},
	}
}

func unpackFile(c *cobra.Command, archive, dir string) (*shows.Unpacked, error) {
	f, err := audio.OpenFile(archive)
	if err != nil {
		return nil, fileFailure(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, fileFailure(err)
	}
	u, err := shows.Unpack(c.Context(), f, info.Size(), dir, shows.UsualLimits())
	if is[*shows.HostileError](err) {
		return nil, fileFailure(fmt.Errorf("%s: %w", archive, err))
	}
	return u, err
}
