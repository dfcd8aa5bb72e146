package export

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"emberbeat/render/sheet"
	"emberbeat/timeline"
)

// File is a file that is ready to be written.
type File struct {
	Name  string                // below the folder, or the whole path
	Fill  func(io.Writer) error // writes what stands in it
	Marks []timeline.PrintMark  // of sheets in it that count as printed once it is written
	Told  []string              // what there is to say about it once it is written

	bytes int64 // its size, 0 where it is not known
}

// Write writes files one after the other, each whole or not at all.
func Write(ctx context.Context, files []File, progress func(float64)) error {
	for i, f := range files {
		if len(files) > 1 {
			progress(float64(i) / float64(len(files)))
		}
		if err := os.MkdirAll(filepath.Dir(f.Name), 0o755); err != nil {
			return fmt.Errorf("the folder cannot be made: %w", err)
		}
		if err := writeWhole(ctx, f, progress); err != nil {
			return err
		}
	}
	return nil
}

// writeWhole writes a file beside the wanted one and puts it in its place once all of it is there.
func writeWhole(ctx context.Context, f File, progress func(float64)) (err error) {
	if err := sheet.Target(f.Name); err != nil {
		return err
	}
	tmp, err := os.CreateTemp(filepath.Dir(f.Name), ".emberbeat-*")
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", f.Name, err)
	}
	defer func() {
		if err != nil {
			tmp.Close()
			os.Remove(tmp.Name())
		}
	}()
	out := &counter{ctx: ctx, w: tmp, all: f.bytes, progress: progress}
	buffered := bufio.NewWriterSize(out, 1<<16)
	if err := f.Fill(buffered); err != nil {
		return err
	}
	if err := errors.Join(buffered.Flush(), tmp.Chmod(0o644), tmp.Sync(), tmp.Close()); err != nil {
		return fmt.Errorf("%s cannot be written: %w; what was there before is as it was", f.Name, err)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := os.Rename(tmp.Name(), f.Name); err != nil {
		return fmt.Errorf("%s cannot be written: %w; what was there before is as it was", f.Name, err)
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
