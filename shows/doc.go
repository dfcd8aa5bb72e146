// Package shows keeps a show on disk: a folder of TOML files that people can
// read, compare and merge, and everything that reads and writes it.
//
// Its one rule: nothing the folder says is lost. What the model does not know,
// comments and unknown keys alike, is carried along and written back where it
// stood; a file is replaced whole or not at all; and a folder that cannot be
// understood is left as it is, with every problem named by file and line.
//
// Load reads a folder and Save writes one. The files know the model's fields
// only through the tables of timeline.Kinds. There is one canonical way to
// write each show, so that the same show always gives the same bytes.
package shows
