// Package rule checks a Plan and says in findings what is wrong, why, and what
// would be valid.
//
// Its one rule: a check is a function from a Plan and given facts to findings;
// it changes nothing, reads nothing else, and every number it compares with is
// data that somebody can look up and change: a field of a record, or a setting
// of the rule with its mark and source.
//
// Start with Check, or with a Checker where a show is checked again after every
// edit. Rules lists the table of rules. The absence of findings means only that
// these rules found no conflict, and nothing more.
package rule
