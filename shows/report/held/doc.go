// Package held holds a list that a desk has exported against the plan: what is
// missing in it, what it has too much, what stands at another frame, on another
// address, in another order.
//
// Its one rule: the list is material and stays as it is. Each of its rows is
// counted once, as compared, left out or not read, and what was not compared is
// said beside what differs.
package held
