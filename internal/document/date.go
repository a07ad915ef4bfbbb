package document

import "time"

// IsDate says that text is a day of the calendar written year, month, day:
// 2027-12-24.
func IsDate(text string) bool {
	_, err := time.Parse(time.DateOnly, text)
	return err == nil
}
