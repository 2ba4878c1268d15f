package answer_test

import (
	"testing"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/plan"
)

// BenchmarkForecast lives through the demonstration build 10,000 times.
func BenchmarkForecast(b *testing.B) {
	v, _ := demoAt(b)
	seq, err := v.Sequence(b.Context(), plan.Options{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := v.Forecast(b.Context(), seq, answer.ForecastOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkFits chooses what fits into a day with a helper.
func BenchmarkFits(b *testing.B) {
	_, fresh := demoAt(b)
	for b.Loop() {
		fresh().Today(nil, answer.TodayOptions{Hours: 8, Helper: true})
	}
}
