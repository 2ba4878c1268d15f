package plan

import (
	"context"
	"fmt"
	"testing"
	"time"
)

func TestGap(t *testing.T) {
	for seed := range 12 {
		p := van(uint64(seed), 160)
		t0 := time.Now()
		s, err := Find(context.Background(), p, Options{})
		d := time.Since(t0)
		if err != nil {
			fmt.Println(seed, err)
			continue
		}
		least := 0
		for _, r := range s.Rows {
			least += r.Reach + r.Rework
		}
		fmt.Printf("%d first %v finish %v bound %v gap %.2f%% extra %d of %d broken %d\n", seed, d, s.Finish, s.Bound, 100*float64(s.Finish-s.Bound)/float64(s.Finish-p.Now), least, s.Work, len(s.Broken))
		for _, sec := range []float64{0.5, 2} {
			s, err = Find(context.Background(), p, Options{Time: time.Duration(sec * 1e9)})
			least = 0
			for _, r := range s.Rows {
				least += r.Reach + r.Rework
			}
			fmt.Printf("   %vs finish %v bound %v gap %.2f%% extra %d of %d broken %d\n", sec, s.Finish, s.Bound, 100*float64(s.Finish-s.Bound)/float64(s.Finish-p.Now), least, s.Work, len(s.Broken))
		}
	}
}
