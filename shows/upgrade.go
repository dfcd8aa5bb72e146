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

// mainSet gives the key of the main set a name of its own: schema 1 called it
// set, as the tables [[set]] below it, and no key of TOML may be both.
func mainSet(d *document) {
	if kv := findPair(d.head.pairs, "set"); kv != nil {
		kv.key, kv.text = "main-set", "main-set"
	}
}
