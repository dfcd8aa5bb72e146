package timeline

import (
	"fmt"
	"slices"
)

// lastAddress is the highest address a bank can have.
const lastAddress = 1_000_000

// AddressUse says which addresses of a space of banks are taken, and by whom.
type AddressUse struct {
	Space string
	by    map[int]*Bank
	last  int
}

// AddressUse gives the use of an address space by all banks but those named.
func (s *Show) AddressUse(space string, but ...ID) *AddressUse {
	u := &AddressUse{Space: space, by: map[int]*Bank{}}
	for _, b := range s.Rig.Banks {
		if b.Space == space && b.Address > 0 && !slices.Contains(but, b.ID) {
			u.by[b.Address] = b
			u.last = max(u.last, b.Address)
		}
	}
	return u
}

// By gives a bank that has an address, or nil.
func (u *AddressUse) By(address int) *Bank { return u.by[address] }

// NextFree gives the lowest address at which so many are free in a row.
func (u *AddressUse) NextFree(count int) (int, bool) {
	free := 0
	for a := 1; a <= lastAddress && free < count; a++ {
		if u.by[a] != nil {
			free = 0
		} else if free++; free == count {
			return a - count + 1, true
		}
	}
	return 0, false
}

// AfterLast gives the address after the last taken one; false when so many do
// not fit there.
func (u *AddressUse) AfterLast(count int) (int, bool) {
	return u.last + 1, count >= 1 && u.last+count <= lastAddress
}

// BankRun says which banks to add one after another.
type BankRun struct {
	Type     ID
	Count    int
	Name     string // each gets it with a number: "front 1"
	Space    string
	Address  int // of the first; 0 = the next free run
	Position ID
}

// AddBanks gives the edit that adds a run of banks. An address that is taken is
// an error that says which is free.
func AddBanks(run BankRun, newID func() ID) Edit {
	return func(d *Draft) error {
		if err := checkCount("bank", run.Count); err != nil {
			return err
		}
		if d.show.Stock.BankType(run.Type) == nil {
			return &ValueError{Kind: "bank", Field: "type", Value: string(run.Type), Want: "names no banktype of this show"}
		}
		name := Numbered(run.Name, bankNames(d.show))
		var banks []*Bank
		for range run.Count {
			banks = append(banks, &Bank{Base: Base{ID: newID()}, Name: name(), Type: run.Type, Space: run.Space, Position: run.Position})
		}
		return d.address(banks, run.Address)
	}
}

// CopyBanks gives the edit that adds a copy of each bank, with addresses from
// the given one on; 0 = the next free run.
func CopyBanks(ids []ID, address int, newID func() ID) Edit {
	return func(d *Draft) error {
		banks, err := d.banks(ids)
		if err != nil {
			return err
		}
		names := bankNames(d.show)
		for _, b := range banks {
			b.ID, b.Kept, b.Dead = newID(), nil, false
			b.Name = Numbered(baseName(b.Name), names)()
			names = append(names, b.Name)
		}
		return d.address(banks, address)
	}
}

// MoveBanks gives the edit that numbers banks anew, in order from an address
// on.
func MoveBanks(ids []ID, address int) Edit {
	return func(d *Draft) error {
		banks, err := d.banks(ids)
		if err != nil {
			return err
		}
		if address == 0 {
			return &ValueError{Kind: "bank", Field: "address", Value: "0", Want: fmt.Sprintf("is no address to move to; write one from 1 to %d", lastAddress)}
		}
		return d.address(banks, address)
	}
}

func (d *Draft) banks(ids []ID) ([]*Bank, error) {
	var list []*Bank
	for i, id := range ids {
		b := d.show.Rig.Bank(id)
		if b == nil {
			return nil, &ValueError{Kind: "bank", Field: "id", Value: string(id), Want: "names no bank of this show"}
		}
		if slices.Contains(ids[:i], id) {
			return nil, &ValueError{Kind: "bank", Field: "id", Value: d.show.CalledBy(id, "bank"), Want: "is named twice; name it once"}
		}
		c := *b
		list = append(list, &c)
	}
	return list, nil
}

// address gives banks consecutive addresses and stores them.
func (d *Draft) address(banks []*Bank, first int) error {
	ids := make([]ID, len(banks))
	for i, b := range banks {
		ids[i] = b.ID
		if b.Space != banks[0].Space {
			return &ValueError{Kind: "bank", Field: "space", Value: b.Space, Want: fmt.Sprintf("differs from %q; number the banks of one space at a time", banks[0].Space)}
		}
	}
	u := d.show.AddressUse(banks[0].Space, ids...)
	free, _ := u.NextFree(len(banks))
	if first == 0 {
		first = free
	}
	if first < 1 || first+len(banks)-1 > lastAddress {
		return &ValueError{Kind: "bank", Field: "address", Value: fmt.Sprint(first), Want: fmt.Sprintf("must be from 1 to %d for %d banks; the next free run starts at %d", lastAddress-len(banks)+1, len(banks), free)}
	}
	for i, b := range banks {
		b.Address = first + i
		if taken := u.by[b.Address]; taken != nil {
			return &ValueError{Kind: "bank", Field: "address", Value: fmt.Sprint(b.Address), Want: fmt.Sprintf("belongs to %s; the next free run of %d starts at %d", d.show.Called(taken), len(banks), free)}
		}
		d.Put("", b)
	}
	return nil
}

func bankNames(s *Show) []string {
	names := make([]string, len(s.Rig.Banks))
	for i, b := range s.Rig.Banks {
		names[i] = b.Name
	}
	return names
}
