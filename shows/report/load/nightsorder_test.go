package load

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// nightsShow has two running orders and five nights. The long one fires three of four
// comets, of which one is a spare, three pots, and a jet three times for five seconds
// at 1 kg/s; the short one fires one comet. The first night is over: two comets were
// fired and one misfired.
func nightsShow(t *testing.T) *timeline.Show {
	t.Helper()
	base := func(id string) timeline.Base { return timeline.Base{ID: timeline.ID(id)} }
	s, err := timeline.NewShow("s", "Tour", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.Article{Base: base("comet"), Name: "Comet", Family: timeline.Comet, Control: timeline.IgniterControl, SingleUse: true, Stock: 10, Expires: "2031-05-20"},
			&timeline.Article{Base: base("pot"), Name: "Pot", Family: timeline.FlashPot, Control: timeline.IgniterControl, SingleUse: true},
			&timeline.Article{Base: base("jet"), Name: "Jet", Family: timeline.CO2Jet, Control: timeline.RelayControl, Open: 5 * timeline.Second, Medium: "CO2", UseRate: 1, Stock: 1},
			&timeline.BankType{Base: base("ign"), Kind: timeline.IgniterBank, Outputs: 16}, &timeline.Bank{Base: base("b"), Name: "bank", Type: "ign"})
		put := func(id, article string, spare bool) {
			d.Put("", &timeline.Placed{Base: base(id), Name: id, Article: timeline.ID(article), Spare: spare})
		}
		for i := range 4 {
			put(fmt.Sprint("c", i), "comet", i == 3)
		}
		for i := range 3 {
			put(fmt.Sprint("p", i), "pot", false)
		}
		put("j0", "jet", false)
		put("j1", "jet", false)
		d.Put("", &timeline.Supply{Base: base("co2"), Name: "CO2", Medium: "CO2", Fill: 10, Units: 1, Usable: 1, Feeds: []timeline.ID{"j0"}, Spare: 2})
		for _, id := range []string{"long", "short"} {
			d.Put("", &timeline.SongHead{Base: base(id), Title: id, Slug: id, Start: timeline.Timecode{H: uint8(len(id))}, Length: timeline.Minute},
				&timeline.Set{Base: base("set-" + id), Name: id, Entries: []timeline.Entry{{Song: timeline.ID(id)}}})
		}
		cue := func(song, target string, n int) {
			d.Put(timeline.ID(song), &timeline.Lane{Base: base("l" + target), Name: target, Target: timeline.ID(target), Role: timeline.EffectSlot})
			for i := range n {
				d.Put(timeline.ID(song), &timeline.Cue{Base: base(fmt.Sprintf("q%s%d", target, i)), Lane: timeline.ID("l" + target), At: timeline.AtTime(timeline.Time(1+10*i) * timeline.Second)})
			}
		}
		for i := range 3 {
			cue("long", fmt.Sprint("c", i), 1)
			cue("long", fmt.Sprint("p", i), 1)
		}
		cue("long", "j0", 3)
		cue("short", "c0", 1)
		night := func(id, date, set string) *timeline.Night {
			return &timeline.Night{Base: base(id), Name: id, Slug: id, Date: date, Set: timeline.ID("set-" + set)}
		}
		over := night("first", "2031-05-01", "long")
		for _, text := range []string{"b:1 fired placed=c0 article=comet", "b:2 fired placed=c1 article=comet", "b:3 misfired placed=c2 article=comet"} {
			o, err := timeline.ParseOutcome(text)
			if err != nil {
				return err
			}
			over.Outcomes = append(over.Outcomes, o)
		}
		d.Put("", over, night("second", "2031-05-03", "long"), night("between", "2031-05-04", "long"), night("third", "2031-05-05", "short"), night("fourth", "2031-05-07", "long"), &timeline.Night{Base: base("some-day"), Name: "some day", Slug: "some-day"})
		return nil
	})
	require.NoError(t, err)
	return s
}

func nightsOf(s *timeline.Show, ids ...timeline.ID) (list []*timeline.Night) {
	for _, id := range ids {
		list = append(list, s.Night(id))
	}
	return list
}

func order(t *testing.T, s *timeline.Show, nights []*timeline.Night, by ...string) *NightsOrder {
	t.Helper()
	o, err := NewNightsOrder(s, nights, by, func(n *timeline.Night) *timeline.Plan { return timeline.Compile(s.AsPlayed(n)) })
	require.NoError(t, err)
	return o
}

func num(n int) *int { return &n }

// Derived by hand. Comets: 10 counted, the first night took 3; 7 are there before the
// second, which must have 4 and uses 3; 4 before the third, which uses 1; 3 before the
// fourth, which must have 4: 1 is ordered, and 3 + 1 - 3 = 1 is left. Jets come back:
// of 2 there is 1, so 1 is ordered for the second night and stays. Pots have no stock.
// A jet takes 15 kg of 10 kg cylinders: 2 a night; of 3 full ones the second night
// leaves 1, and the fourth orders 1.
func TestNightsOrder(t *testing.T) {
	s := nightsShow(t)
	o := order(t, s, nightsOf(s, "fourth", "first", "third", "second"), "2031-05-06", "2031-05-02")
	require.Equal(t, []OrderNight{{"first", "first", "2031-05-01", "", true, ""}, {"second", "second", "2031-05-03", "", false, "2031-05-02"},
		{"third", "third", "2031-05-05", "", false, "2031-05-02"}, {"fourth", "fourth", "2031-05-07", "", false, "2031-05-06"}}, o.Nights)
	require.Equal(t, []NightsStock{
		{ID: "comet", Name: "Comet", UsedUp: true, Uses: 10, Order: num(1), After: num(1), Nights: []NightStock{
			{4, 3, num(10), num(0), false}, {4, 3, num(7), num(0), false}, {4, 1, num(4), num(0), false}, {4, 3, num(3), num(1), false}}},
		{ID: "pot", Name: "Pot", UsedUp: true, Uses: 6, Nights: []NightStock{
			{3, 0, nil, num(0), false}, {3, 3, nil, nil, false}, {3, 0, nil, nil, false}, {3, 3, nil, nil, false}}},
		{ID: "jet", Name: "Jet", Order: num(1), After: num(2), Nights: []NightStock{
			{2, 0, num(1), num(0), false}, {2, 0, num(1), num(1), false}, {2, 0, num(2), num(0), false}, {2, 0, num(2), num(0), false}}},
	}, o.Articles)
	require.Equal(t, []NightsStock{{ID: "co2", Name: "CO2", UsedUp: true, Uses: 6, Order: num(1), After: num(0), Nights: []NightStock{
		{2, 2, nil, num(0), false}, {2, 2, num(3), num(0), false}, {0, 0, num(1), num(0), false}, {2, 2, num(1), num(1), false}}}}, o.Supplies)
	require.Equal(t, []NightsMedium{{"CO2", []float64{15, 15, 0, 15}, 45}}, o.Media)
	for i := range o.Deliveries {
		for k := range o.Deliveries[i].Lines {
			o.Deliveries[i].Lines[k].used = 0
		}
	}
	require.Equal(t, []Delivery{
		{By: "2031-05-02", Nights: []string{"second", "third"}, Lines: []DeliveryLine{{ID: "pot", Name: "Pot", Needs: 6}, {ID: "jet", Name: "Jet", Order: num(1), Needs: 2}}},
		{By: "2031-05-06", Nights: []string{"fourth"}, Lines: []DeliveryLine{{ID: "comet", Name: "Comet", Order: num(1), Needs: 4}, {ID: "pot", Name: "Pot", Needs: 3}, {ID: "co2", Name: "CO2", Order: num(1), Needs: 2}}},
	}, o.Deliveries)
	require.Equal(t, []string{"between"}, o.Beside)
	require.Equal(t, "2031-05-01 to 2031-05-07", o.Date)
}

// What comes before the first delivery is not ordered with it; without deliveries each
// night has its own.
func TestNightsBeforeTheFirstDelivery(t *testing.T) {
	s := nightsShow(t)
	o := order(t, s, nightsOf(s, "second", "fourth"), "2031-05-07")
	require.Equal(t, []string{"", "2031-05-07"}, []string{o.Deliveries[0].By, o.Deliveries[1].By}, "what comes on the day is in time")
	require.Equal(t, []string{"between", "third"}, o.Beside, "of the first it is entered what was used")
	o = order(t, s, nightsOf(s, "second", "between", "fourth"))
	require.Equal(t, []NightStock{{2, 2, num(3), num(0), false}, {2, 2, num(1), num(1), false}, {2, 2, num(0), num(2), false}}, o.Supplies[0].Nights)
	o = order(t, s, nightsOf(s, "second", "fourth"))
	require.Equal(t, []string{"2031-05-03", "2031-05-07"}, []string{o.Deliveries[0].By, o.Deliveries[1].By})
}

// A night before the day of the count has a stock that nobody knows, and takes nothing
// off it; what may not be used any more that night is no stock for it.
func TestNightsUnknownStock(t *testing.T) {
	s, err := nightsShow(t).Edit(func(d *timeline.Draft) error {
		a := *d.Show().Stock.Article("comet")
		a.Counted, a.Expires = "2031-05-05", "2031-05-06"
		d.Put("", &a)
		return nil
	})
	require.NoError(t, err)
	o := order(t, s, nightsOf(s, "second", "third", "fourth"))
	comet := o.Articles[0]
	require.Equal(t, []NightStock{{4, 3, nil, nil, false}, {4, 1, num(10), num(0), false}, {4, 3, num(9), nil, true}}, comet.Nights)
	require.Nil(t, comet.Order)
	require.Nil(t, comet.After)
}

func TestNightsRefused(t *testing.T) {
	s := nightsShow(t)
	for want, c := range map[string]struct {
		nights []*timeline.Night
		by     []string
	}{
		"no night is chosen":      {nil, nil},
		"some day has no date":    {nightsOf(s, "second", "some-day"), nil},
		"is no day of a delivery": {nightsOf(s, "second"), []string{"2031-02-30"}},
		"write it as 2031-05-09":  {nightsOf(s, "second"), []string{"soon"}},
	} {
		_, err := NewNightsOrder(s, c.nights, c.by, func(n *timeline.Night) *timeline.Plan { return timeline.Compile(s, n) })
		require.ErrorContains(t, err, want)
	}
}
