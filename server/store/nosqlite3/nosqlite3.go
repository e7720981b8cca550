// Package sqlite3 stands in for the C binding that gorm.io/driver/sqlite imports whatever driver is used.
//
// The store opens SQLite through the pure-Go driver, so the binding would be compiled for nothing (and needs a C
// compiler). go.mod replaces it by this empty package.
package sqlite3
