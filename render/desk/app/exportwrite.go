package app

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"emberbeat/render"
	"emberbeat/render/crewpage"
	"emberbeat/render/desk/export"
	"emberbeat/render/desk/openshow"
	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// written remembers the files that the window has written, as they were then: they may be written again unasked, others may not.
type written map[string]openshow.Stamp

// foreign gives those of some files that are there and that the window has not written.
func (w written) foreign(names []string) []string {
	var list []string
	for _, n := range names {
		if info, err := os.Stat(n); err == nil && w[n] != openshow.StampOf(info) {
			list = append(list, n)
		}
	}
	return list
}

// export writes what is asked for beside the window. What goes wrong brings the dialog back with the reason.
func (a *App) export(d *exportDialog) {
	q, w := d.ask, a.work
	q.Made = time.Now().Format(crewpage.MadeForm)
	show := w.Session.Show()
	failed := func(err error) func() { return func() { a.exportFailed(d, err) } }
	var picture *render.Scene
	if q.Item == export.Picture {
		var err error
		if picture, err = a.song.Picture(); err != nil {
			a.exportFailed(d, err)
			return
		}
	}
	a.run("exporting "+filepath.Base(q.Path), func(ctx context.Context, progress func(float64)) (func(), error) {
		files := []export.File{{Name: q.Path, Fill: func(w io.Writer) error { return paper.WritePNG(w, picture, &render.Day) }}}
		var err error
		switch {
		case q.Item == export.CrewPage:
			files, err = q.MakePage(ctx, show, w.Session)
		case picture == nil:
			files, err = q.Make(show)
		}
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case err != nil:
			return failed(err), nil
		}
		if err := export.Write(ctx, files, progress); err != nil {
			if errors.Is(err, context.Canceled) {
				return nil, err
			}
			return failed(err), nil
		}
		return func() {
			if a.work == w {
				a.exported(q, files)
			}
		}, nil
	})
}

// exportFailed says what went wrong where it was asked for.
func (a *App) exportFailed(d *exportDialog, err error) {
	d.bad, d.over = err.Error(), nil
	a.fail(err)
	if a.dialog == nil {
		a.dialog = d
	}
}

// exported tells what was written.
func (a *App) exported(q export.Ask, files []export.File) {
	if a.wrote == nil {
		a.wrote = written{}
	}
	for _, f := range files {
		if info, err := os.Stat(f.Name); err == nil {
			a.wrote[f.Name] = openshow.StampOf(info)
		}
	}
	what := q.Path
	if len(files) > 1 {
		what = timeline.Counted(len(files), "sheet") + " into " + q.Path
	}
	told := a.markPrinted(q, files)
	for _, f := range files {
		for _, line := range f.Told {
			told += "; " + line
		}
	}
	a.tell("exported %s%s", what, told)
	a.say("exported %s", q.Path)
}

// markPrinted notes what was written as printed where that was asked for, and gives what there is to say about it.
func (a *App) markPrinted(q export.Ask, files []export.File) string {
	var marks []timeline.PrintMark
	for _, f := range files {
		marks = append(marks, f.Marks...)
	}
	if len(marks) == 0 {
		return ""
	}
	show := a.work.Session.Show()
	warning := report.SameRevision(timeline.Compile(show.AsPlayed(show.Night(q.Night))), marks)
	if !a.do(change{"mark " + timeline.Counted(len(marks), "sheet") + " as printed", []timeline.Edit{timeline.MarkPrinted(q.Night, marks)}}) {
		return "; but it is not marked as printed: " + a.note.text
	}
	if warning != "" {
		return "; " + warning
	}
	return " and marked as printed"
}

// baseNames names files without their folder, a few of them.
func baseNames(list []string) string {
	var names []string
	for i, n := range list {
		if i == 4 {
			names = append(names, fmt.Sprintf("%d more", len(list)-4))
			break
		}
		names = append(names, filepath.Base(n))
	}
	return strings.Join(names, ", ")
}
