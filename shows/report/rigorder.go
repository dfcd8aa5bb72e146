package report

import (
	"cmp"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// SortedBanks gives the banks by space, address and name.
func SortedBanks(s *timeline.Show) []*timeline.Bank {
	return slices.SortedStableFunc(slices.Values(s.Rig.Banks), func(a, b *timeline.Bank) int {
		return cmp.Or(strings.Compare(a.Space, b.Space), cmp.Compare(a.Address, b.Address), strings.Compare(a.Name, b.Name))
	})
}

// SortedDevices gives the devices by network, first address and name.
func SortedDevices(s *timeline.Show) []*timeline.Device {
	first := func(v *timeline.Device) int {
		if len(v.Starts) == 0 {
			return 0
		}
		return v.Starts[0].Absolute()
	}
	return slices.SortedStableFunc(slices.Values(s.Rig.Devices), func(a, b *timeline.Device) int {
		return cmp.Or(strings.Compare(a.Space, b.Space), cmp.Compare(first(a), first(b)), strings.Compare(a.Name, b.Name))
	})
}
