package plan_test
import ("testing";"context";"fmt";"time"
"example.com/vanlog/internal/plan"
"example.com/vanlog/internal/demo"
"example.com/vanlog/internal/answer"
"example.com/vanlog/internal/units"
)
func TestDemoGap(t *testing.T){
  now,_:=units.ParseInstant("2026-03-04T08:00")
  b:=demo.Build(now)
  v:=answer.New(b,now)
  for _,sec:=range []float64{0,0.5,2,8}{
  t0:=time.Now()
  s,err:=v.Sequence(context.Background(),plan.Options{Time:time.Duration(sec*1e9)})
  fmt.Println(sec,time.Since(t0),err,len(s.Tasks),s.Finish,s.BoundFinish,s.WorkMin,s.AccessMin,len(s.ShouldBroken), 100*float64(s.Finish-s.BoundFinish)/float64(s.Finish-now))
  }
}
func TestDemoIdle(t *testing.T){
  now,_:=units.ParseInstant("2026-03-04T08:00")
  b:=demo.Build(now)
  v:=answer.New(b,now)
  s,_:=v.Sequence(context.Background(),plan.Options{Time:30e9,Seed:3})
  uses:=map[string]string{}
  for _,tt:=range b.Tasks.Rows { uses[string(tt.ID)]=fmt.Sprint(tt.Uses, tt.Cure) }
  for _,r:=range s.Tasks { fmt.Println(r.Start,r.Finish,r.CureEnd,r.WorkMin,r.AccessMin,r.ID,uses[string(r.ID)], r.Because) }
}
func TestDemoLong(t *testing.T){
  now,_:=units.ParseInstant("2026-03-04T08:00")
  b:=demo.Build(now)
  v:=answer.New(b,now)
  for seed:=range 4 {
  s,err:=v.Sequence(context.Background(),plan.Options{Time:40e9,Seed:uint64(seed), Better: func(s plan.Sequence){}})
  fmt.Println(seed,err,s.Finish,s.BoundFinish,s.WorkMin,s.AccessMin,len(s.ShouldBroken), 100*float64(s.Finish-s.BoundFinish)/float64(s.Finish-now))
  }
}
