package answer

import "example.com/vanlog/internal/access"

// minus gives the items of a that are not in b, as a new set.
func minus(a, b access.Set) access.Set {
	out := make(access.Set, len(a))
	for i := range a {
		out[i] = a[i]
		if i < len(b) {
			out[i] &^= b[i]
		}
	}
	return out
}

// union gives the items of a and of b, as a new set.
func union(a, b access.Set) access.Set {
	if len(a) < len(b) {
		a, b = b, a
	}
	out := append(access.Set(nil), a...)
	for i := range b {
		out[i] |= b[i]
	}
	return out
}

// meets reports whether a and b have an item in common.
func meets(a, b access.Set) bool {
	for i := range min(len(a), len(b)) {
		if a[i]&b[i] != 0 {
			return true
		}
	}
	return false
}
