package order

// refusal is why a heat cannot be made, and the bent heats that it rests on: those
// of done from the first to the last of because. Whatever else is bent, the same
// glass is in the same place.
type refusal struct {
	answer
	done set
}

// refuse remembers a refusal.
func (m *model) refuse(done set, h int, a answer) {
	if m.refusals == nil {
		m.refusals = make([][]refusal, len(m.heats))
	}
	m.refusals[h] = append(m.refusals[h], refusal{a, done.within(a.because[0], a.because[1])})
}

// refused returns a refusal of heat h that holds when those of done are bent. Its
// swings are those of the state it was found in.
func (m *model) refused(done set, h int) (answer, bool) {
	if m.refusals == nil {
		return answer{}, false
	}
	m.work += len(m.refusals[h])
	for i := len(m.refusals[h]) - 1; i >= 0; i-- {
		r := &m.refusals[h][i]
		if done.within(r.because[0], r.because[1]) == r.done {
			return r.answer, true
		}
	}
	return answer{}, false
}
