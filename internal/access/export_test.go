package access

// SetPatience makes s break a search for a cost off after so many nodes.
func (s *Solver) SetPatience(nodes int) { s.patience = nodes }
