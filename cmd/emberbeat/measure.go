package main

import (
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/timeline"
)

// measuring is a lead counted from video.
type measuring struct {
	frames []int
	fps    int
	bank   string
}

func (m *measuring) flags(c *cobra.Command) {
	c.Flags().IntSliceVar(&m.frames, "frames", nil, "frames from command to hit, one number a shot, with commas")
	c.Flags().IntVar(&m.fps, "fps", 50, "pictures a second of the video")
	c.Flags().StringVar(&m.bank, "through", "", "bank or device that was used, by name or id")
}

// edit gives the edit that keeps the lead in an article.
func (m *measuring) edit(p *timeline.Plan, article string) (timeline.Edit, error) {
	if !strings.HasPrefix(article, "article:") {
		article = "article:" + article
	}
	ref, err := p.FindRecord(article)
	if err != nil {
		return nil, err
	}
	taken := timeline.Measurement{Frames: m.frames, PerSec: m.fps}
	if m.bank != "" {
		if taken.Latency, err = latencyOf(p, m.bank); err != nil {
			return nil, err
		}
	}
	return timeline.KeepLead(ref.ID, taken), nil
}

// latencyOf gives what a bank or device adds to a lead; 0 where its type is
// lost.
func latencyOf(p *timeline.Plan, name string) (timeline.Time, error) {
	ref, err := p.FindOneOf(name, "bank", "device")
	if err != nil {
		return 0, err
	}
	if ref.Kind == "bank" {
		if t := p.Show.Stock.BankType(p.Show.Rig.Bank(ref.ID).Type); t != nil {
			return t.Latency, nil
		}
		return 0, nil
	}
	if t := p.Show.Stock.DeviceType(p.Show.Rig.Device(ref.ID).Type); t != nil {
		return t.Latency, nil
	}
	return 0, nil
}
