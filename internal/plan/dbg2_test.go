package plan

import (
	"context"
	"fmt"
	"testing"
	"time"
)

func TestBig(t *testing.T) {
	p := van(1, 5000)
	calls := 0
	r := p.Reach
	p.Reach = func(j int, s Set) (int, bool) { calls++; return r(j, s) }
	t0 := time.Now()
	s, err := Find(context.Background(), p, Options{})
	fmt.Println(time.Since(t0), calls, err, s.Finish, s.Bound)
}
func TestCalls(t *testing.T) {
	for _, n := range []int{40, 160, 500} {
		p := van(1, n)
		calls := 0
		r := p.Reach
		p.Reach = func(j int, s Set) (int, bool) { calls++; return r(j, s) }
		_, err := Find(context.Background(), p, Options{})
		fmt.Println(n, calls, err)
	}
}
