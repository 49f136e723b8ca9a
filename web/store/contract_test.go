package store_test

import (
	"context"
	"path/filepath"
	"testing"

	"fullyon/web/store"
	"fullyon/web/store/storetest"
)

func TestContractSQLite(t *testing.T) {
	storetest.Run(t, func(t *testing.T) store.Store { return openAt(t, filepath.Join(t.TempDir(), "fullyon.db")) })
}

func openAt(t testing.TB, path string) *store.DB {
	t.Helper()
	s, err := store.Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
	})
	return s
}
