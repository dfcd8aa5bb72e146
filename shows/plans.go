package shows

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"emberbeat/timeline"
)

// PlansDir is where pictures under stage plans lie in the folder of a show.
const PlansDir = "plans"

// ReadPlan reads a picture under a stage plan from the folder of a show, of up to so
// many bytes. What lies elsewhere by a link, or is no file, is an error.
func ReadPlan(dir, name string, most int64) ([]byte, error) {
	if err := Outward(dir, name); err != nil {
		return nil, err // opening would refuse it as well; what lies outside is not even looked at
	}
	info, err := os.Stat(filepath.Join(dir, filepath.FromSlash(name)))
	switch {
	case err != nil:
		return nil, &FileError{File: name, Doing: "read", Err: err}
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s is no file", name)
	case info.Size() > most:
		return nil, fmt.Errorf("%s has %d bytes; up to %d are read", name, info.Size(), most)
	}
	f, err := osStorage(dir).open(name)
	if err != nil {
		return nil, &FileError{File: name, Doing: "read", Err: err}
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most))
}

// planPictures lists the pictures that venues of a show name, each once.
func planPictures(s *timeline.Show) []string {
	var list []string
	seen := map[string]bool{}
	for _, v := range s.Venues {
		if name := v.Picture.File; name != "" && !seen[name] && timeline.IsPlanPicture(name) {
			seen[name] = true
			list = append(list, name)
		}
	}
	return list
}
