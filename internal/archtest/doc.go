// Package archtest holds one test: the table of who may import whom is true.
package archtest
