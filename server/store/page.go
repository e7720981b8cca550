package store

import (
	"strings"

	"gorm.io/gorm"
)

// page reads the wanted part of q and counts the whole. orders has a column or expression per sort key; what is NULL comes
// last in either direction, which the two databases would do differently. id makes the order complete.
func page[R any](q *gorm.DB, columns string, p Page, orders map[string]string, id string) ([]R, int, error) {
	q = q.Session(&gorm.Session{}) // both reads start from the same conditions
	order, known := orders[p.Sort]
	if !known {
		order = orders[""]
	}
	direction := ""
	if p.Desc {
		direction = " DESC"
	}
	rows := q.Select(columns)
	for _, by := range strings.Split(order, ", ") {
		rows = rows.Order("(" + by + ") IS NULL").Order(by + direction)
	}
	rows = rows.Order(id + direction).Offset(p.Offset)
	if p.Limit > 0 {
		rows = rows.Limit(p.Limit)
	}
	var found []R
	if err := rows.Find(&found).Error; err != nil {
		return nil, 0, err
	}
	if p.Offset == 0 && (p.Limit <= 0 || len(found) < p.Limit) {
		return found, len(found), nil // this is the whole
	}
	var total int64
	if err := q.Count(&total).Error; err != nil {
		return nil, 0, err
	}
	return found, int(total), nil
}
