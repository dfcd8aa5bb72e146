package session

import (
	"slices"

	"emberbeat/shows"
	"emberbeat/timeline"
)

// Unnamed lists the recordings in the show's folder that no song names, and none of the
// older saves on this computer: work that was interrupted after a recording was copied
// in leaves one. Of older saves only as many are read as it takes.
func (s *Session) Unnamed() ([]string, error) {
	left, err := shows.RecordingsIn(s.st)
	if err != nil {
		return nil, err
	}
	for _, of := range []*timeline.Show{s.Show(), s.Saved()} {
		left = unnamedBy(of, left)
	}
	if len(left) == 0 {
		return nil, nil
	}
	older, err := shows.VersionsOf(s.dir)
	if err != nil {
		return nil, err
	}
	for _, v := range older {
		if len(left) == 0 {
			break
		}
		if l, err := v.Load(); err == nil {
			left = unnamedBy(l.Show, left)
		}
	}
	return left, nil
}

// unnamedBy gives the recordings that no song of a show names, now or as a night was played.
func unnamedBy(s *timeline.Show, files []string) []string {
	of := []*timeline.Show{s}
	for _, p := range s.Played {
		of = append(of, p.Show)
	}
	return slices.DeleteFunc(files, func(file string) bool {
		return slices.ContainsFunc(of, func(s *timeline.Show) bool {
			return slices.ContainsFunc(s.Songs, func(g *timeline.Song) bool { return g.Audio.Path == file })
		})
	})
}
