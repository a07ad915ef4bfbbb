package plan

// Derived is the table of what is said elsewhere.
var Derived = derived
