package access_test
import ("testing";"fmt";"slices";"example.com/vanlog/internal/access")
func TestDbgCount(t *testing.T){
	for seed := uint64(3); seed<8; seed++ {
	v := newVanLike(seed, 200, 160)
	s := access.NewSolver(v.places, v.items)
	all := s.All()
	half := s.Set()
	for i := range half { half[i] = all[i] & 0x5555555555555555 }
	for b, base := range []access.Set{all, half} {
	access.Solves, access.Sure, access.Quar, access.Big = 0,0,0,0
	for _, j := range v.jobs {
		with := slices.Clone(base)
		for i := range v.items {
			with[i/64] ^= 1 << (i % 64)
			s.Cost(j.query(with))
			with[i/64] ^= 1 << (i % 64)
		}
	}
	fmt.Println(seed, b, access.Solves, access.Sure, access.Quar, access.Sharp,access.Big/max(1,access.Solves))
	}
	}
}
