package reckon

import (
	"math"
	"strings"
	"testing"
)

func lift(t *testing.T, load, h, v, d string) Lift {
	t.Helper()
	return Lift{Load: q(t, load), Horizontal: q(t, h), Vertical: q(t, v), Travel: q(t, d), Frequency: 1, Coupling: 1}
}

func lifted(t *testing.T, l Lift) Lifted {
	t.Helper()
	out, err := l.Limit()
	if err != nil {
		t.Fatal(err)
	}
	noted(t, out.Note)
	return out
}

// A battery of 27 kg from a trolley up 40 cm into the door: product of the equation of
// NIOSH Publication 94-110, metric.
func TestLiftBattery(t *testing.T) {
	got := lifted(t, lift(t, "27 kg", "40 cm", "20 cm", "40 cm"))
	near(t, "limit", got.LimitKg, 11.2, 0.05)
	near(t, "index", got.Index, 2.4, 0.05)
	near(t, "HM", got.HM, 0.625, 1e-9)
	near(t, "VM", got.VM, 0.835, 1e-9)
	near(t, "DM", got.DM, 0.9325, 1e-9)
	if !strings.Contains(got.Note.Caution, "crawl space") {
		t.Errorf("no caution of the crawl space: %s", got.Note.Caution)
	}
}

// Example 1 of the manual, "Loading punch press stock" (2021 revision, pp. 33-37; the
// figures from memory): 44 lb at H 23 in, V 15 to 64 in, D 49 in, fair coupling. Printed
// are the multipliers of the tables in inches, the limits 16.3 and 14.5 lb, and the
// indices 2.7 and 3.0. The metric form and the tables' steps differ by up to 0.015 in a
// multiplier, and so by up to 6 % in the limit, to the safe side.
func TestLiftPunchPress(t *testing.T) {
	for _, tt := range []struct {
		v              string
		cm             float64
		hm, vm, dm     float64
		pounds, factor float64
	}{
		{"15 in", 0.95, 0.44, 0.89, 0.86, 16.3, 2.7},
		{"64 in", 1.00, 0.44, 0.75, 0.86, 14.5, 3.0},
	} {
		near(t, "the printed product", 51*tt.hm*tt.vm*tt.dm*tt.cm, tt.pounds, 0.05)
		l := lift(t, "44 lb", "23 in", tt.v, "49 in")
		l.Coupling = tt.cm
		got := lifted(t, l)
		near(t, "HM", got.HM, tt.hm, 0.015)
		near(t, "VM", got.VM, tt.vm, 0.015)
		near(t, "DM", got.DM, tt.dm, 0.015)
		pounds := got.LimitKg / 0.45359237
		if pounds > tt.pounds || pounds < 0.94*tt.pounds {
			t.Errorf("V %s: %.2f lb, want %v or up to 6 %% less", tt.v, pounds, tt.pounds)
		}
		near(t, "index", got.Index, tt.factor, 0.075*tt.factor) // of the limit above, and the print is rounded
		// The same equation in inches and pounds (51 lb, 10/H, 0.0075, 1.8/D).
		v := float64(map[string]int{"15 in": 15, "64 in": 64}[tt.v])
		us := 51 * (10 / 23.0) * (1 - 0.0075*math.Abs(v-30)) * (0.82 + 1.8/49) * tt.cm
		near(t, "against the form in inches", pounds/us, 1, 0.035)
	}
}

// The best lift has the load constant, 23 kg. Limits of H and D from memory: what is
// nearer than 25 cm, or travels less, counts as 25 cm.
func TestLiftLimits(t *testing.T) {
	near(t, "the best lift", lifted(t, lift(t, "10 kg", "25 cm", "75 cm", "25 cm")).LimitKg, 23, 1e-9)
	near(t, "nearer", lifted(t, lift(t, "10 kg", "10 cm", "75 cm", "5 cm")).LimitKg, 23, 1e-9)
	near(t, "farthest", lifted(t, lift(t, "10 kg", "63 cm", "75 cm", "25 cm")).HM, 25./63, 1e-9)
	twisted := lift(t, "10 kg", "25 cm", "75 cm", "25 cm")
	twisted.Twist = 90
	near(t, "AM of 90 degrees", lifted(t, twisted).AM, 0.712, 1e-9)
	// Every multiplier counts: twisted, often (FM 0.75), with a poor grip.
	twisted.Frequency, twisted.Coupling = 0.75, 0.90
	near(t, "all at once", lifted(t, twisted).LimitKg, 23*0.712*0.75*0.90, 1e-9)
	for want, l := range map[string]Lift{
		"horizontal distance of 64 cm is beyond": lift(t, "10 kg", "64 cm", "75 cm", "25 cm"),
		"height of the hands of 2 m is beyond":   lift(t, "10 kg", "25 cm", "2 m", "25 cm"),
		"travel of 176 cm is beyond":             lift(t, "10 kg", "25 cm", "75 cm", "176 cm"),
		"height of the hands of -1 cm":           lift(t, "10 kg", "25 cm", "-1 cm", "25 cm"),
		"load of 0 kg":                           lift(t, "0 kg", "25 cm", "75 cm", "25 cm"),
		"load is missing":                        lift(t, "", "25 cm", "75 cm", "25 cm"),
	} {
		refuses(t, failed(l.Limit()), want)
	}
	for want, change := range map[string]func(*Lift){
		"twist of 136":                     func(l *Lift) { l.Twist = 136 },
		"frequency multiplier FM of 0":     func(l *Lift) { l.Frequency = 0 },
		"coupling multiplier CM of 0 is":   func(l *Lift) { l.Coupling = 0 },
		"coupling multiplier CM of 1.1 is": func(l *Lift) { l.Coupling = 1.1 },
	} {
		l := lift(t, "10 kg", "25 cm", "75 cm", "25 cm")
		change(&l)
		refuses(t, failed(l.Limit()), want)
	}
}
