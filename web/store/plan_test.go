package store

import (
	"context"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestPlans asks SQLite how it would run each statement: none may read a whole
// table or index.
func TestPlans(t *testing.T) {
	d, err := Open(context.Background(), filepath.Join(t.TempDir(), "plan.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	for _, all := range []reflect.Value{reflect.ValueOf(stmts), reflect.ValueOf(classStmts)} {
		for i := range all.NumField() {
			name, text := all.Type().Field(i).Name, all.Field(i).String()
			if text == "" {
				t.Errorf("statement %s is empty", name)
				continue
			}
			for _, step := range plan(t, d, text) {
				if strings.HasPrefix(step, "SCAN") && step != "SCAN CONSTANT ROW" {
					t.Errorf("statement %s: %s", name, step)
				}
			}
		}
	}
}

// TestPlansTester makes sure that a scan would be seen.
func TestPlansTester(t *testing.T) {
	d, err := Open(context.Background(), filepath.Join(t.TempDir(), "plan.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	if got := strings.Join(plan(t, d, `select id from attempt where text = $1`), "; "); !strings.HasPrefix(got, "SCAN") {
		t.Errorf("plan of a search without an index: %q, want a SCAN", got)
	}
}

var parameter = regexp.MustCompile(`\$(\d+)`)

func plan(t *testing.T, d *DB, text string) (steps []string) {
	t.Helper()
	n := 0
	for _, m := range parameter.FindAllStringSubmatch(text, -1) {
		i, _ := strconv.Atoi(m[1])
		n = max(n, i)
	}
	rows, err := d.read.db.Query("explain query plan "+text, make([]any, n)...)
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	defer rows.Close()
	for rows.Next() {
		var id, parent, unused int
		var step string
		if err := rows.Scan(&id, &parent, &unused, &step); err != nil {
			t.Fatal(err)
		}
		steps = append(steps, step)
	}
	return steps
}
