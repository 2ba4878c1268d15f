package tui

import (
	"context"
	"errors"
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/units"
)

// asking is a question that is being worked out; only the answer to the last one counts.
type asking struct {
	number int
	cancel context.CancelFunc // nil: nothing to stop
}

// next stops what is being worked out, and begins another question.
func (a asking) next(ctx context.Context) (asking, context.Context) {
	a = a.stopped()
	ctx, a.cancel = context.WithCancel(ctx)
	return a, ctx
}

// stopped ends the question: an answer to it is dropped.
func (a asking) stopped() asking {
	if a.cancel != nil {
		a.cancel()
	}
	return asking{number: a.number + 1}
}

// closer is how long a closer look searches for each order; none where better orders are not
// searched for at all.
func (m Model) closer() time.Duration { return m.improve / 2 }

// priceMove asks what a move costs: a first look that is there at once, then a closer one. The
// search for a better order ends: it would change the rows under the hand.
func (m Model) priceMove(e screen.PriceMove) (Model, tea.Cmd) {
	if e.Task == "" || m.data.View == nil {
		m.pricing = m.pricing.stopped()
		return m, nil
	}
	m = m.keepBest()
	next, ctx := m.pricing.next(m.ctx)
	m.pricing = next
	number, v := next.number, m.following()
	look := func(length time.Duration, more tea.Cmd) tea.Cmd {
		return func() tea.Msg {
			price, err := v.Move(ctx, e.Task, e.To, plan.Options{Time: length})
			return priceMsg{number, e, price, more, err}
		}
	}
	return m, twice(look, m.closer())
}

// twice asks for a first look that is there at once, then for a closer one that searches for a
// length of time; only the first where that is none.
func twice(look func(length time.Duration, more tea.Cmd) tea.Cmd, closer time.Duration) tea.Cmd {
	if closer == 0 {
		return look(0, nil)
	}
	return look(0, look(closer, nil))
}

// keepBest ends the search for a better order, if there is one; the best so far is kept.
func (m Model) keepBest() Model {
	if m.search.on && m.search.cancel != nil {
		m.search.cancel()
	}
	return m
}

func (msg priceMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.number != m.pricing.number {
		return m, nil
	}
	seq := m.screens[sequenceAt].(screen.Sequence)
	more := msg.more
	if msg.err != nil {
		more = nil
	}
	m.screens[sequenceAt] = seq.Priced(msg.asked, msg.price, more != nil, msg.err)
	return m, more
}

// findLate asks what to do when parts are late: a first look, then a closer one.
func (m Model) findLate(e screen.FindLate) (Model, tea.Cmd) {
	if len(e.Delays) == 0 || m.data.View == nil {
		m.delays = m.delays.stopped()
		return m, nil
	}
	next, ctx := m.delays.next(m.ctx)
	m.delays = next
	number, v := next.number, m.following()
	look := func(length time.Duration, more tea.Cmd) tea.Cmd {
		return func() tea.Msg {
			late, err := v.Late(ctx, e.Delays, plan.Options{Time: length})
			return lateMsg{number, e, late, more, err}
		}
	}
	return m, twice(look, m.closer())
}

func (msg lateMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.number != m.delays.number {
		return m, nil
	}
	more := msg.more
	if msg.err != nil {
		more = nil
	}
	m.screens[partsAt] = m.screens[partsAt].(screen.Parts).Found(msg.asked, msg.late, more != nil, msg.err)
	return m, more
}

// showLate goes to the Parts and asks there what to do when some are late.
func (m Model) showLate(e screen.ShowLate) (Model, tea.Cmd) {
	next, ask := m.screens[partsAt].(screen.Parts).Late(e.Parts)
	m.screens[partsAt] = next
	m.at, m.pages, m.onlyVan = partsAt, nil, false
	return m.run(ask)
}

// askParts asks by when parts are needed in the present order: at once when the build is another,
// and again once the search for a better order has ended.
func (m Model) askParts() (Model, tea.Cmd) {
	m.partsIn, m.partsOf = m.load, m.data.Seq
	next, ctx := m.needs.next(m.ctx)
	m.needs = next
	load, v, seq := m.load, m.data.View, m.data.Seq
	return m, func() tea.Msg {
		rows, err := v.PartRows(ctx, seq)
		return partsMsg{load, seq, rows, err}
	}
}

func (msg partsMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.load != m.load || msg.seq != m.partsOf {
		return m, nil
	}
	if msg.err != nil {
		return m.fail(fmt.Errorf("by when parts are needed: %w", msg.err)), nil
	}
	m.data.Parts = msg.rows
	m.screens[partsAt] = m.screens[partsAt].With(m.data)
	return m, nil
}

// foresee asks for the forecast of the top line, with the options of the one before.
func (m Model) foresee() (Model, tea.Cmd) {
	if m.lives == 0 {
		return m, nil
	}
	return m.findForecast(m.data.Outlook.Asked)
}

// showForecast opens the page of the forecast, and asks for what it shows.
func (m Model) showForecast() (Model, tea.Cmd) {
	m = m.push(screen.Forecast{})
	if m.data.Forecast != nil && !m.data.Aged || m.data.Looking {
		return m, nil
	}
	return m.findForecast(m.data.Outlook.Asked)
}

const (
	fewestLives = 100
	// livesTimesTasks keeps the forecast of a large build within a few seconds.
	livesTimesTasks = 2_000_000
)

// findForecast asks when the build will be done.
func (m Model) findForecast(e screen.FindForecast) (Model, tea.Cmd) {
	m.outlook = m.outlook.stopped()
	if m.data.View == nil || m.data.Seq == nil || len(m.data.Seq.Tasks) == 0 {
		return m.showOutlook(screen.Outlook{Asked: e, NoView: m.noForecast()}), nil
	}
	next, ctx := m.outlook.next(m.ctx)
	m.outlook = next
	out := m.data.Outlook
	out.Asked, out.Looking = e, true
	number, v, seq := next.number, m.data.View, *m.data.Seq
	o := answer.ForecastOptions{Samples: max(fewestLives, min(m.lives, livesTimesTasks/len(seq.Tasks))), Learn: e.Learn}
	if e.By != 0 {
		o.By = &units.When{At: e.By.Start(), DateOnly: true}
	}
	return m.showOutlook(out), func() tea.Msg {
		f, err := v.Forecast(ctx, seq, o)
		return forecastMsg{number, f, err}
	}
}

// noForecast says why there is nothing to foresee.
func (m Model) noForecast() string {
	switch {
	case m.data.NoSeq != "":
		return "there is no order of work: " + m.data.NoSeq
	case m.data.Seq != nil:
		return "everything is done"
	}
	return "" // the order comes first
}

func (msg forecastMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.number != m.outlook.number {
		return m, nil
	}
	out := screen.Outlook{Asked: m.data.Outlook.Asked, Forecast: &msg.forecast}
	if msg.err != nil {
		out.Forecast, out.NoView = nil, msg.err.Error()
	}
	m.outlook = m.outlook.stopped()
	return m.showOutlook(out), nil
}

// stopForeseeing drops the forecast that is being worked out: it is of another build.
func (m Model) stopForeseeing() Model {
	m.outlook = m.outlook.stopped()
	out := m.data.Outlook
	out.Looking = false
	return m.showOutlook(out)
}

// showOutlook changes what is known of the finish. Only pages show it.
func (m Model) showOutlook(out screen.Outlook) Model {
	m.data.Outlook = out
	for i, p := range m.pages {
		if _, ok := p.(screen.Forecast); ok {
			pages := append([]screen.Screen(nil), m.pages...)
			pages[i] = p.With(m.data)
			m.pages = pages
		}
	}
	return m
}

// pinned says what was moved or pinned, or that nothing had to be.
func pinned(c build.Change, err error) (string, error) {
	if err == nil && c.Seq == 0 {
		return "", errors.New("nothing to change: it is held there already, or was not held at all")
	}
	return c.What, err
}

// saveDue writes the day on which a part is due.
func saveDue(ctx context.Context, a *app.App, e screen.SaveDue) (string, error) {
	what, err := changePart(ctx, a, string(e.Part), func(p *parts.Part, _ units.Instant) {
		p.Due = &units.When{At: e.Due.Start(), DateOnly: true}
	})
	return what + ": due " + e.Due.Format("Mon 2 Jan 2006"), err
}

// takeIn writes that a part has arrived now.
func takeIn(ctx context.Context, a *app.App, e screen.TakeIn) (string, error) {
	what, err := changePart(ctx, a, string(e.Part), func(p *parts.Part, now units.Instant) {
		p.Arrived = &units.When{At: now}
	})
	return what + ": arrived", err
}

// changePart changes a part as it is on file.
func changePart(ctx context.Context, a *app.App, name string, change func(p *parts.Part, now units.Instant)) (string, error) {
	v, err := a.View(ctx)
	if err != nil {
		return "", err
	}
	for i, p := range v.Build.Parts.Rows {
		if string(p.ID) != name {
			continue
		}
		next := p
		change(&next, v.Now)
		c, err := a.SaveOver(ctx, build.PartKind, v.Build.Parts.Keys[i], p, next)
		if err == nil && c.Seq == 0 {
			err = fmt.Errorf("%s: that is written already", p.Title())
		}
		return p.Title(), err
	}
	return "", fmt.Errorf("part %q is no longer there: %w", name, build.ErrStale)
}
