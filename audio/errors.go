package audio

// FileError says that a file cannot be used as sound.
type FileError struct {
	Path string // the file, as it was named by the caller
	What string // what is wrong with it
	Want string // what would be right
	Err  error  // the cause below, if there is one
}

// Error gives "path: what; want".
func (e *FileError) Error() string {
	s := e.Path + ": " + e.What
	if e.Want != "" {
		s += "; " + e.Want
	}
	return s
}

// Unwrap gives the cause below.
func (e *FileError) Unwrap() error { return e.Err }
