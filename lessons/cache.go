package lessons

import "sync"

// The cache keeps what was rendered, by Markdown. It holds two generations:
// when the young one is full it becomes the old one, and the old one is dropped.
const maxCached = 2 << 20 // bytes of Markdown in one generation

type cacheKey struct {
	form     form
	markdown string
}

var cache struct {
	sync.RWMutex
	young, old map[cacheKey]rendered
	size       int
}

// cached is render, remembered.
func cached(f form, markdown string) rendered {
	key := cacheKey{f, markdown}
	cache.RLock()
	r, ok := cache.young[key]
	if !ok {
		if r, ok = cache.old[key]; ok {
			cache.RUnlock()
			keep(key, r)
			return r
		}
	}
	cache.RUnlock()
	if !ok {
		r = render(f, markdown)
		keep(key, r)
	}
	return r
}

func keep(key cacheKey, r rendered) {
	cost := len(key.markdown) + 100
	if cost > maxCached/16 {
		return
	}
	cache.Lock()
	defer cache.Unlock()
	if cache.young == nil || cache.size+cost > maxCached {
		cache.old, cache.young, cache.size = cache.young, map[cacheKey]rendered{}, 0
	}
	if _, ok := cache.young[key]; !ok {
		cache.size += cost
	}
	cache.young[key] = r
}
