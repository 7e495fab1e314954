package picture

import (
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
)

type Sheet struct {
	SVG string `json:"svg"`
	Alt string `json:"alt"`
}

// SheetOf is a drawing in a language.
func SheetOf(p plate.Plate, l catalogue.Language) Sheet {
	p = p.In(l)
	return Sheet{p.SVG, p.Alt}
}

// Folder keeps each drawing once, as long as there is room.
type Folder struct {
	Plates []Sheet
	Places map[Sheet]int
	Room   int // bytes
}

// Put takes a question's drawings in, all of them or none.
func (f *Folder) Put(drawings []Sheet) (places []int, ok bool) {
	size := 0
	for _, p := range drawings {
		if _, known := f.Places[p]; !known {
			size += len(p.SVG)
		}
	}
	if size > f.Room {
		return nil, false
	}
	f.Room -= size
	for _, p := range drawings {
		if _, known := f.Places[p]; !known {
			f.Places[p] = len(f.Plates)
			f.Plates = append(f.Plates, p)
		}
		places = append(places, f.Places[p])
	}
	return places, true
}
