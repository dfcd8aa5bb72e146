package shows

// step leads a file from one schema to the next, in memory. It changes the
// document only; what it does not touch is kept.
type step func(*document)

// upgrade leads a document from its schema to the newest of its kind.
func (fk *fileKind) upgrade(d *document, schema int) {
	for _, s := range fk.steps[schema-1:] {
		s(d)
	}
}
