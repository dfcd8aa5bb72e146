package app

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"emberbeat/render"
	"emberbeat/render/desk/work"
	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// written remembers the files that the window has written, as they were then: they may be written again unasked, others may not.
type written map[string]work.Stamp

// foreign gives those of some files that are there and that the window has not written.
func (w written) foreign(names []string) []string {
	var list []string
	for _, n := range names {
		if info, err := os.Stat(n); err == nil && w[n] != work.StampOf(info) {
			list = append(list, n)
		}
	}
	return list
}

// export writes what is asked for beside the window. What goes wrong brings the dialog back with the reason.
func (a *App) export(d *exportDialog) {
	q, w := d.ask, a.work
	show := w.Session.Show()
	failed := func(err error) func() { return func() { a.exportFailed(d, err) } }
	var picture *render.Scene
	if q.item == exportPicture {
		var err error
		if picture, err = a.song.Picture(); err != nil {
			a.exportFailed(d, err)
			return
		}
	}
	a.run("exporting "+filepath.Base(q.file), func(ctx context.Context, progress func(float64)) (func(), error) {
		files := []made{{name: q.file, write: func(w io.Writer) error { return paper.WritePNG(w, picture, &render.Day) }}}
		if picture == nil {
			var err error
			if files, err = q.make(show); err != nil {
				return failed(err), nil
			}
		}
		if err := writeFiles(ctx, files, progress); err != nil {
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
func (a *App) exported(q exportAsk, files []made) {
	if a.wrote == nil {
		a.wrote = written{}
	}
	for _, f := range files {
		if info, err := os.Stat(f.name); err == nil {
			a.wrote[f.name] = work.StampOf(info)
		}
	}
	what := q.file
	if len(files) > 1 {
		what = counted(len(files), "sheet") + " into " + q.file
	}
	told := a.markPrinted(q, files)
	a.tell("exported %s%s", what, told)
	a.say("exported %s", q.file)
}

// markPrinted notes what was written as printed where that was asked for, and gives what there is to say about it.
func (a *App) markPrinted(q exportAsk, files []made) string {
	var marks []timeline.PrintMark
	for _, f := range files {
		if f.mark != nil {
			marks = append(marks, *f.mark)
		}
	}
	if len(marks) == 0 {
		return ""
	}
	show := a.work.Session.Show()
	warning := report.SameRevision(timeline.Compile(show, show.Night(q.night)), marks)
	if !a.do(change{"mark " + counted(len(marks), "sheet") + " as printed", []timeline.Edit{timeline.MarkPrinted(q.night, marks)}}) {
		return "; but it is not marked as printed: " + a.note.text
	}
	if warning != "" {
		return "; " + warning
	}
	return " and marked as printed"
}

// writeFiles writes files one after the other, each whole or not at all.
func writeFiles(ctx context.Context, files []made, progress func(float64)) error {
	for i, f := range files {
		if len(files) > 1 {
			progress(float64(i) / float64(len(files)))
		}
		if err := os.MkdirAll(filepath.Dir(f.name), 0o755); err != nil {
			return fmt.Errorf("the folder cannot be made: %w", err)
		}
		if err := writeWhole(ctx, f, progress); err != nil {
			return err
		}
	}
	return nil
}

// writeWhole writes a file beside the wanted one and puts it in its place once all of it is there.
func writeWhole(ctx context.Context, f made, progress func(float64)) (err error) {
	if info, err := os.Stat(f.name); err == nil && info.IsDir() {
		return fmt.Errorf("%s is a folder; name a file", f.name)
	}
	tmp, err := os.CreateTemp(filepath.Dir(f.name), ".emberbeat-*")
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", f.name, err)
	}
	defer func() {
		if err != nil {
			tmp.Close()
			os.Remove(tmp.Name())
		}
	}()
	out := &counter{ctx: ctx, w: tmp, all: f.bytes, progress: progress}
	buffered := bufio.NewWriterSize(out, 1<<16)
	if err := f.write(buffered); err != nil {
		return err
	}
	if err := errors.Join(buffered.Flush(), tmp.Chmod(0o644), tmp.Sync(), tmp.Close()); err != nil {
		return fmt.Errorf("%s cannot be written: %w; what was there before is as it was", f.name, err)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := os.Rename(tmp.Name(), f.name); err != nil {
		return fmt.Errorf("%s cannot be written: %w; what was there before is as it was", f.name, err)
	}
	return nil
}

// counter counts what passes, and lets nothing pass once it is cancelled.
type counter struct {
	ctx       context.Context
	w         io.Writer
	done, all int64
	progress  func(float64)
}

func (c *counter) Write(b []byte) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := c.w.Write(b)
	if c.done += int64(n); c.all > 0 {
		c.progress(min(float64(c.done)/float64(c.all), 1))
	}
	return n, err
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
