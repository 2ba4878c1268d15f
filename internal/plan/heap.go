package plan

// heap keeps the least of its items, by before, first.
type heap[T any] struct {
	items  []T
	before func(a, b T) bool
}

func newHeap[T any](before func(a, b T) bool) *heap[T] { return &heap[T]{before: before} }

func (h *heap[T]) push(x T) {
	h.items = append(h.items, x)
	for i := len(h.items) - 1; i > 0; {
		up := (i - 1) / 2
		if !h.before(h.items[i], h.items[up]) {
			return
		}
		h.items[i], h.items[up] = h.items[up], h.items[i]
		i = up
	}
}

func (h *heap[T]) pop() T {
	first, last := h.items[0], len(h.items)-1
	h.items[0] = h.items[last]
	h.items = h.items[:last]
	for i := 0; ; {
		least := i
		for _, below := range [2]int{2*i + 1, 2*i + 2} {
			if below < last && h.before(h.items[below], h.items[least]) {
				least = below
			}
		}
		if least == i {
			return first
		}
		h.items[i], h.items[least] = h.items[least], h.items[i]
		i = least
	}
}
