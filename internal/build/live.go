package build

import (
	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
)

// Live is a build with its design choices resolved: what bears an option that is not
// chosen is gone, and so are ways through such items (a place with no way left is
// Shut), edges of such tasks, and mentions of such items. A build
// without resources has the default builder.
type Live struct {
	Resources []calendar.Resource
	Places    []access.Place
	Items     []access.Item
	Parts     []parts.Part
	Tasks     []tasks.Task
	Edges     []deps.Edge

	TaskAt     map[id.Task]int
	ItemAt     map[id.Item]int
	PlaceAt    map[id.Place]int
	PartAt     map[id.Part]int
	ResourceAt map[id.Resource]int
}

// Live resolves the design choices of b.
func (b Build) Live() Live { panic("not written yet") }

// Choose gives b with option o chosen in its choice.
func (b Build) Choose(o id.Option) (Build, error) { panic("not written yet") }

// FittedNow gives the items that are fitted: those marked so, and those that finished tasks fit.
func (l Live) FittedNow() []id.Item { panic("not written yet") }
