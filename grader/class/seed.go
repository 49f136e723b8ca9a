package class

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/binary"
)

// SecretSize is the length of a class's secret key in bytes.
const SecretSize = 32

// Seed is the seed of the n-th draw of a template for a learner in a set. It
// comes from a secret that only the server has, so that nobody who has the
// program can compute another learner's version:
//
//	the first 53 bits of HMAC-SHA-256(secret; set, learner, template, n)
//
// Each part is written with its length, so that no two lists of parts are alike.
// A set whose learners all get the same draw leaves learner empty.
func Seed(secret []byte, set, learner, template string, n int) uint64 {
	mac := hmac.New(sha256.New, secret)
	for _, part := range []string{set, learner, template} {
		binary.Write(mac, binary.BigEndian, uint64(len(part)))
		mac.Write([]byte(part))
	}
	binary.Write(mac, binary.BigEndian, uint64(n))
	return binary.BigEndian.Uint64(mac.Sum(nil)) >> 11
}
