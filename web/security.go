package web

import (
	"io"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"time"
)

// maxBody is how much a form may send, in bytes. The longest answer that makes
// sense is a few hundred.
const maxBody = 64 << 10

// contentPolicy allows what this server itself serves, and nothing else: no
// inline script or style, no other machine.
const contentPolicy = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self' data:; " +
	"connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// secured sets the headers that every answer carries.
func secured(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", contentPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=(), usb=(), serial=()")
		next.ServeHTTP(w, r)
	})
}

// onlyHost answers only requests that name this machine or the host it was told
// to serve. Another site whose name was made to point here (DNS rebinding) would
// otherwise read and answer for the learner.
func (s *Server) onlyHost(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if s.allowsHost(r.Host) {
			next.ServeHTTP(w, r)
			return
		}
		s.fail(w, r, &pageError{
			status: http.StatusMisdirectedRequest,
			title:  "Not under this name",
			say:    "This program answers only under the address it printed when it was started, such as 127.0.0.1 or localhost. Open that address.",
		})
	})
}

func (s *Server) allowsHost(hostport string) bool {
	host := hostport
	if h, _, err := net.SplitHostPort(hostport); err == nil {
		host = h
	}
	host = strings.ToLower(strings.TrimSuffix(strings.Trim(host, "[]"), "."))
	if host == "localhost" || strings.HasSuffix(host, ".localhost") {
		return true
	}
	if a, err := netip.ParseAddr(host); err == nil && a.IsLoopback() {
		return true
	}
	return host != "" && host == s.host
}

// limited lets a body be read up to maxBody and answers a longer one with a
// *http.MaxBytesError.
func limited(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Body != nil && r.Body != http.NoBody {
			r.Body = &cappedBody{ReadCloser: r.Body, left: maxBody}
		}
		next.ServeHTTP(w, r)
	})
}

// maxDrained is how much of a body that is too long is still taken in, and thrown
// away: a browser that is cut off while sending shows its own error in place of ours.
const maxDrained = 16 << 20

type cappedBody struct {
	io.ReadCloser
	left int64
}

// Read reads on until the limit is passed.
func (b *cappedBody) Read(p []byte) (int, error) {
	if b.left < 0 {
		return 0, &http.MaxBytesError{Limit: maxBody}
	}
	n, err := b.ReadCloser.Read(p)
	if b.left -= int64(n); b.left >= 0 {
		return n, err
	}
	if err == nil {
		_, _ = io.CopyN(io.Discard, b.ReadCloser, maxDrained)
	}
	return 0, &http.MaxBytesError{Limit: maxBody}
}

// HTTP is a server for the handler with limits on time and headers.
func (s *Server) HTTP() *http.Server {
	return &http.Server{
		Handler:           s.Handler(),
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       15 * time.Second,
		WriteTimeout:      30 * time.Second,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    32 << 10,
	}
}
