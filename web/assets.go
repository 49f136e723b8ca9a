package web

import (
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"errors"
	"fmt"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"
)

//go:embed static
var staticFiles embed.FS

// assets are the style sheet, the script, the icon and the fonts. One hash over
// all of them stands in their addresses, so a browser may keep them for ever.
type assets struct {
	hash  string
	files map[string]asset
}

type asset struct {
	body []byte
	kind string
	etag string
}

// kinds are the types of the files served, named here since a machine's own
// table of types may lack them.
var kinds = map[string]string{
	".css":   "text/css; charset=utf-8",
	".js":    "text/javascript; charset=utf-8",
	".svg":   "image/svg+xml",
	".woff2": "font/woff2",
	".txt":   "text/plain; charset=utf-8",
}

func loadAssets(fsys fs.FS) (*assets, error) {
	a := &assets{files: map[string]asset{}}
	whole := sha256.New()
	err := fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		kind, ok := kinds[path.Ext(name)]
		if !ok {
			if kind = mime.TypeByExtension(path.Ext(name)); kind == "" {
				return fmt.Errorf("static file %s: no type is known for it", name)
			}
		}
		body, err := fs.ReadFile(fsys, name)
		if err != nil {
			return err
		}
		sum := sha256.Sum256(body)
		whole.Write([]byte(name))
		whole.Write(sum[:])
		a.files[name] = asset{body, kind, `"` + base64.RawURLEncoding.EncodeToString(sum[:12]) + `"`}
		return nil
	})
	if err == nil && len(a.files) == 0 {
		err = errors.New("no static files")
	}
	a.hash = base64.RawURLEncoding.EncodeToString(whole.Sum(nil)[:9])
	return a, err
}

// address is where a static file is served. A name that does not exist is a
// mistake of a template, which executing all of them in a test brings out.
func (a *assets) address(name string) (string, error) {
	if _, ok := a.files[name]; !ok {
		return "", fmt.Errorf("no static file %q", name)
	}
	return "/static/" + a.hash + "/" + name, nil
}

// serve answers for /static/{hash}/{name}. An old hash still serves the file as
// it is now, but not for keeping.
func (a *assets) serve(w http.ResponseWriter, r *http.Request, hash, name string) error {
	f, ok := a.files[name]
	if !ok {
		return notFound("There is no such file.")
	}
	h := w.Header()
	h.Set("Content-Type", f.kind)
	h.Set("ETag", f.etag)
	if hash == a.hash {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	} else {
		h.Set("Cache-Control", "no-cache")
	}
	if strings.Contains(r.Header.Get("If-None-Match"), f.etag) {
		w.WriteHeader(http.StatusNotModified)
		return nil
	}
	_, err := w.Write(f.body)
	return err
}
