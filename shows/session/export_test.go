package session

// JournalFile is what a journal writes to.
type JournalFile = journalFile

// OpenJournalFile opens what a journal writes to when nothing stands for it.
var OpenJournalFile = openJournalFile

// WithJournal lets something stand for the files of journals.
func (o Options) WithJournal(open func(path string, flag int) (JournalFile, error)) Options {
	o.openJournal = open
	return o
}
