package render

// key draws a key at the right: a patch of each colour with its words.
func (p *painter) key(w *writer, k *Key) {
	line, patch, gap := 1.5*w.sizePx, 1.1*w.sizePx, 0.5*w.sizePx
	room := w.widthOf(k.Title)
	for _, e := range k.Entries {
		room = max(room, patch+gap+w.widthOf(e.Text))
	}
	x, top := float64(w.img.Rect.Dx())-room-1.6*w.sizePx, 0.7*w.sizePx
	bottom := top + line*float64(len(k.Entries)+1) + 0.6*w.sizePx
	halfX, halfY := room/2+0.9*w.sizePx, (bottom-top)/2
	w.pill(x+room/2, top+halfY, halfX, halfY, w.tone.halo, 0.9)
	w.taken = append(w.taken, area{x + room/2 - halfX, top, x + room/2 + halfX, bottom})
	w.put(x, top+0.9*line, k.Title, w.tone.text)
	for i, e := range k.Entries {
		y := top + line*(float64(i)+1.9)
		w.pill(x+patch/2, y, patch/2+1, patch/2+1, w.tone.text, 1)
		w.pill(x+patch/2, y, patch/2, patch/2, e.Color, 1)
		w.put(x+patch+gap, y, e.Text, w.tone.text)
	}
}
