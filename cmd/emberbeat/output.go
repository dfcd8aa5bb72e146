package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"emberbeat/render/sheet"
)

// writeOut writes a result where --out says: "" or "-" is stdout, anything
// else a file (writeFile).
func (t *talk) writeOut(name string, write func(io.Writer) error) error {
	if name == "" || name == "-" {
		return fileFailure(buffered(t.out, write))
	}
	return t.writeFile(name, write)
}

// writeFile writes a file that appears whole or not at all, replacing one of its
// name, and nothing that is no file.
func (t *talk) writeFile(name string, write func(io.Writer) error) error {
	if err := sheet.Target(name); err != nil {
		return fileFailure(err)
	}
	if err := replaceFile(name, write); err != nil {
		return err
	}
	t.say("wrote %s", name)
	return nil
}

func buffered(w io.Writer, write func(io.Writer) error) error {
	b := bufio.NewWriter(w)
	if err := write(b); err != nil {
		return err
	}
	return b.Flush()
}

// replaceFile writes a temporary file beside the wanted one and renames it.
func replaceFile(name string, write func(io.Writer) error) (err error) {
	f, err := os.CreateTemp(filepath.Dir(name), ".emberbeat-*")
	if err != nil {
		return cannotWrite(name, err)
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if err := buffered(f, write); err != nil {
		return cannotWrite(name, err)
	}
	if err := errors.Join(f.Chmod(0o644), f.Sync(), f.Close()); err != nil {
		return cannotWrite(name, err)
	}
	if err := os.Rename(f.Name(), name); err != nil {
		return cannotWrite(name, err)
	}
	return nil
}

// cannotWrite names the file the user asked for, not the temporary one.
func cannotWrite(name string, err error) error {
	var path *os.PathError
	if !errors.As(err, &path) {
		var link *os.LinkError
		if !errors.As(err, &link) {
			return err // of the sheet itself
		}
		err = link.Err
	} else {
		err = path.Err
	}
	return fileFailure(fmt.Errorf("%s cannot be written: %w; the file is as it was before", name, err))
}
