package build

// Differing gives the edits that turn b into other, whose records have the keys that
// they have in b: only what differs is edited. None where nothing does.
func (b Build) Differing(other Build) []Edit {
	type place struct {
		kind Kind
		key  Key
	}
	have := map[place]Record{}
	for _, r := range b.Records() {
		have[place{r.Kind, r.Key}] = r
	}
	var edits []Edit
	for _, r := range other.Records() {
		at := place{r.Kind, r.Key}
		if old := have[at].Data; !sameData(old, r.Data) {
			edits = append(edits, Edit{Kind: r.Kind, Key: r.Key, Before: old, After: r.Data})
		}
		delete(have, at)
	}
	for _, r := range b.Records() {
		if _, gone := have[place{r.Kind, r.Key}]; gone {
			edits = append(edits, Edit{Kind: r.Kind, Key: r.Key, Before: r.Data})
		}
	}
	return edits
}
