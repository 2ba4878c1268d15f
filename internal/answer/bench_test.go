package answer_test

import (
	"testing"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/demo"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// The demonstration build has 160 tasks; every round starts with nothing remembered.

func demoAt(b *testing.B) (answer.View, func() *answer.View) {
	b.Helper()
	now, err := units.ParseInstant("2026-03-02T08:00")
	if err != nil {
		b.Fatal(err)
	}
	build := demo.Build(now)
	return *answer.New(build, now), func() *answer.View { return answer.New(build, now) }
}

func BenchmarkFirstSequence(b *testing.B) {
	_, fresh := demoAt(b)
	for b.Loop() {
		if _, err := fresh().Sequence(b.Context(), plan.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkToday(b *testing.B) {
	_, fresh := demoAt(b)
	for b.Loop() {
		fresh().Today(nil, answer.TodayOptions{})
	}
}

// BenchmarkCloseInTable asks for every item what its fitting buries.
func BenchmarkCloseInTable(b *testing.B) {
	v, fresh := demoAt(b)
	for b.Loop() {
		view := fresh()
		for _, x := range v.Live.Items {
			if _, err := view.CloseIn(string(x.ID)); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func BenchmarkAudit(b *testing.B) {
	_, fresh := demoAt(b)
	for b.Loop() {
		fresh().Audit(b.Context())
	}
}

// BenchmarkDerived makes the close-in table of the whole build.
func BenchmarkDerived(b *testing.B) {
	for _, f := range []answer.Fitted{answer.FittedNow, answer.FittedAll} {
		b.Run(string(f), func(b *testing.B) {
			_, fresh := demoAt(b)
			for b.Loop() {
				fresh().DerivedEdges(f)
			}
		})
	}
}

// BenchmarkWhileOpen asks what else comes within reach on the way to the battery.
func BenchmarkWhileOpen(b *testing.B) {
	_, fresh := demoAt(b)
	for b.Loop() {
		if _, err := fresh().WhileOpen(b.Context(), []string{"battery"}, answer.FittedAll, 5); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBurden(b *testing.B) {
	_, fresh := demoAt(b)
	for b.Loop() {
		if _, err := fresh().Burden(b.Context()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBuriesUnproven(b *testing.B) {
	_, fresh := demoAt(b)
	for b.Loop() {
		fresh().BuriesUnproven()
	}
}
