package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows/intake"
	rowline "emberbeat/timeline/row"
)

func rowCommand(t *talk) *cobra.Command {
	var dry bool
	var table string
	v := operatedBy("row")
	c := &cobra.Command{
		Use:   "row SHOW [ROW…]",
		Short: "put effects onto the stage in rows, wired",
		Long: `Put effects onto the stage in rows: each effect at a position of its own, named,
grouped, addressed and wired, as one step. A ROW says how many of what, what the
positions are called, and how far apart they stand:

  "12 jets, lip, 1.5 m apart"

A row stands along the front edge about the middle of the stage. What else it
says is key=value, each behind a comma and a space:

  from=x,y,z, to=x,y,z  from here to there; from= alone goes on to the right
  middle=x,y,z          about this place
  on=lip*               on positions that are there: this name, or beginning so
  article="Cold jet"    where --article is not it
  pan= tilt=            degrees from straight up: to the right, upstage
  fan=                  degrees that the pan opens from the first to the last
  group=                where --group, or the name of the row, is not it

--table takes a file instead: CSV with columns of these names, and count, name
and place. --bank wires to free outputs that are there; --type adds as many
banks or devices as it takes, from --at on. A dry run tells it effect by effect.`,
		Example: `  emberbeat row tour "12 jets, lip, 1.5 m apart" --article "Cold jet, 6 m" --dry-run
  emberbeat row tour "4 comets, riser, from=-3,4,1, to=3,4,1, fan=40" --article "Comet, white, 12 m" --type "Igniter bank, 18 outputs" --dry-run
  emberbeat row tour --table rows.csv --article "Cold jet, 6 m" --dry-run`,
		Args:              cobra.MinimumNArgs(1),
		ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			if table != "" {
				rows, err := readRows(table)
				if err != nil {
					return err
				}
				args = append(args, rows...)
			}
			if len(args) < 2 {
				return hint(usage(fmt.Errorf("row needs ROW, or --table with a file of them")), "usage: "+c.UseLine())
			}
			return t.operate(c, v, args, dry, looking{never: true}, onShow)
		},
	}
	v.flags(c)
	c.Flags().StringVar(&table, "table", "", "a table of rows (CSV), with a line of names: "+strings.Join(rowline.Keys(), ", "))
	dryRunFlag(c, &dry)
	return c
}

// readRows reads rows from a table, each as a line says it.
func readRows(file string) ([]string, error) {
	data, err := readAtMost(file, intake.MaxTableBytes)
	if err != nil {
		return nil, fileFailure(err)
	}
	table, err := intake.ReadTable(data, intake.TableOptions{Look: []string{"name"}, Any: rowline.Keys()})
	if err != nil {
		return nil, fileFailure(fmt.Errorf("%s: %w", file, err))
	}
	var rows []string
	for _, line := range table.Rows {
		var r rowline.Row
		for i, name := range table.Columns {
			if err := r.Set(strings.ToLower(strings.TrimSpace(name)), line.Cell(i)); err != nil {
				return nil, usage(fmt.Errorf("%s line %d: %w", file, line.Line, err))
			}
		}
		rows = append(rows, r.String())
	}
	if len(rows) == 0 {
		return nil, usage(fmt.Errorf("%s has no row below its names", file))
	}
	return rows, nil
}
