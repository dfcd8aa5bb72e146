package timeline

import "slices"

// Spent is what became of an article's pieces over some nights.
type Spent struct{ Fired, Misfired, Unfired, TakenOut int }

// Gone is what stock has fallen by: what was fired, and what misfired and can
// not be used again.
func (s Spent) Gone() int { return s.Fired + s.Misfired }

func (s *Spent) add(o Outcome) {
	switch o.State {
	case Fired:
		s.Fired += o.Pieces
	case Misfired:
		s.Misfired += o.Pieces
	case Unfired:
		s.Unfired += o.Pieces
	case TakenOut:
		s.TakenOut += o.Pieces
	}
}

// SpentOn adds up what the night has entered for an article.
func (n *Night) SpentOn(article ID) (s Spent) {
	for _, o := range n.EachOutcome() {
		if o.Article == article {
			s.add(o)
		}
	}
	return s
}

// Counts reports whether what a night uses is taken off the article's stock:
// the article is used up, and the night does not lie before the day on which
// the stock was counted.
func (a *Article) Counts(n *Night) bool {
	return a.UsedUp() && (a.Counted == "" || n.Date == "" || n.Date >= a.Counted)
}

// OnHand is how many of an article there are before a night, or now for nil:
// what was counted less what nights have fired and misfired since. What stands
// loaded and was not fired is on hand. It is below 0 when more was used than
// counted. The count itself is never changed: given is false where there is
// none.
func (s *Show) OnHand(a *Article, before *Night) (n int, given bool) {
	n = a.Stock
	for _, o := range s.NightsBefore(before) {
		if a.Counts(o) {
			n -= o.SpentOn(a.ID).Gone()
		}
	}
	return n, a.Stock > 0
}

// StockLine is what a night did to the stock of one article.
type StockLine struct {
	Article *Article
	Spent
	Before, After int  // on hand; Before - Fired - Misfired = After
	Given         bool // the article has a stock count that this night is taken off
}

// StockOver gives what a night did to the stock, for each article its outcomes
// name, in the order of their ids. Articles that the stock has lost, and those
// that are not used up, have no line.
func (s *Show) StockOver(n *Night) []StockLine {
	var lines []StockLine
	for _, a := range s.Stock.Articles {
		if !a.UsedUp() || !slices.ContainsFunc(n.Outcomes, func(o Outcome) bool { return o.Article == a.ID }) {
			continue
		}
		l := StockLine{Article: a, Spent: n.SpentOn(a.ID)}
		l.Before, l.Given = s.OnHand(a, n)
		l.Given = l.Given && a.Counts(n)
		if l.After = l.Before; a.Counts(n) {
			l.After -= l.Gone()
		}
		lines = append(lines, l)
	}
	return lines
}
