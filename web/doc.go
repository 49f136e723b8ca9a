// Package web serves the pages: lessons, problems with their marking, pauses and
// progress, for one learner on their own machine.
//
// The server holds no state of its own: what was handed out and answered lies in
// the store, what a page says of it is computed from there. routes.go is the map
// of addresses; there is one file a group of pages.
//
// Rules that hold for every page:
//
//   - Nothing changes by GET. Changes are POST, refused from other sites, and
//     answered with a redirect to a page that can be loaded again.
//   - Every form carries a key made when it was rendered. Sending it twice is
//     one attempt.
//   - A page is rendered whole before its first byte is sent.
//   - No page needs a script; no page asks another machine for anything.
//   - What was typed is never lost: a form that cannot be taken comes back with
//     its text.
package web
