package store

// The statements, one text for both databases: $1…$n, RETURNING and ON CONFLICT
// mean the same in SQLite and PostgreSQL. CASTs are there where PostgreSQL could
// not tell a parameter's type. A test asks the database for the plan of each
// and fails if one reads a whole table.

const (
	handedColumns = `h.id, h.learner, h.key, h.template, h.source, h.program, h.seed, h.kept, h.why, h.made`

	attemptColumns = `a.id, a.handed, a.question, a.key, a.number, a.try, a.helped, a.text, a.working,
		a.outcome, a.slip, a.marks, a.result, a.made`

	openedColumns = `o.id, o.handed, o.question, o.what, o.number, o.made`
)

type statements struct {
	addLearner, learner, nameLearner, localLearner, addLocal, dropLearner string
	addSource, source                                                     string
	addHanded, handed, handedByKey, latestHanded                          string
	addAttempt, attempt, attemptByKey, attemptsOf, seen                   string
	addOpened, openedOnce, openedOf                                       string
	history, progress                                                     string
	meetPause, pausesMet                                                  string
	set, settings                                                         string
}

var stmts = statements{
	addLearner:   `insert into learner (id, name, made) values ($1, $2, $3)`,
	learner:      `select id, name, made from learner where id = $1`,
	nameLearner:  `update learner set name = $2 where id = $1`,
	localLearner: `select l.id, l.name, l.made from local_learner one join learner l on l.id = one.learner where one.one = 1`,
	addLocal:     `insert into local_learner (one, learner) values (1, $1) on conflict (one) do nothing`,
	dropLearner:  `delete from learner where id = $1`,

	addSource: `insert into template_source (hash, template, source, made) values ($1, $2, $3, $4) on conflict (hash) do nothing`,
	source:    `select hash, template, source from template_source where hash = $1`,

	addHanded: `insert into handed (id, learner, key, template, source, program, seed, kept, why, made)
		values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10) on conflict (learner, key) do nothing`,
	handed:      `select ` + handedColumns + ` from handed h where h.id = $1`,
	handedByKey: `select ` + handedColumns + ` from handed h where h.learner = $1 and h.key = $2`,
	latestHanded: `select ` + handedColumns + ` from handed h where h.learner = $1 and h.template = $2
		order by h.seq desc limit 1`,

	// Number and help are counted by the database, in the same transaction.
	addAttempt: `insert into attempt (id, handed, learner, question, key, number, try, helped, text, working,
			outcome, slip, marks, result, made)
		select cast($1 as text), h.id, h.learner, cast($3 as text), cast($4 as text),
			(select coalesce(max(number), 0) + 1 from attempt where handed = h.id and question = $3),
			cast($5 as integer),
			(select count(*) from opened where handed = h.id and question = $3 and what not in ('not_that', 'step')),
			cast($6 as text), cast($7 as text), cast($8 as text), cast($9 as text),
			cast($10 as double precision), cast($11 as text), cast($12 as text)
		from handed h where h.id = $2
		on conflict (key) do nothing
		returning number, helped`,
	attempt:      `select ` + attemptColumns + ` from attempt a where a.id = $1`,
	attemptByKey: `select ` + attemptColumns + ` from attempt a where a.key = $1`,
	attemptsOf:   `select ` + attemptColumns + ` from attempt a where a.handed = $1 order by a.seq`,
	seen: `select (select count(*) from attempt where handed = h.id), (select count(*) from opened where handed = h.id)
		from handed h where h.id = $1`,

	addOpened: `insert into opened (id, handed, question, what, number, made) values ($1, $2, $3, $4, $5, $6)
		on conflict (handed, question, what, number) do nothing`,
	openedOnce: `select ` + openedColumns + ` from opened o
		where o.handed = $1 and o.question = $2 and o.what = $3 and o.number = $4`,
	openedOf: `select ` + openedColumns + ` from opened o where o.handed = $1 order by o.seq`,

	history: `select a.seq, a.id, a.handed, h.template, h.source, a.question, a.text, a.number, a.try, a.helped,
			a.outcome, a.slip, a.marks,
			exists (select 1 from opened o where o.handed = a.handed and o.question = a.question
				and o.what = 'not_that' and o.number = a.number),
			a.made
		from attempt a join handed h on h.id = a.handed
		where a.learner = $1 and a.seq > $2 and a.made >= $3
		order by a.seq limit $4`,
	progress: `select h.template, count(distinct h.id), count(a.id),
			count(distinct case when a.try >= 1 then a.handed || '/' || a.question end),
			count(case when a.try = 1 and a.outcome = 'right' and a.helped = 0 then 1 end),
			max(coalesce(a.made, h.made))
		from handed h left join attempt a on a.handed = h.id
		where h.learner = $1 group by h.template order by h.template`,

	meetPause: `insert into pause_met (learner, pause, handed, made) values ($1, $2, $3, $4)
		on conflict (learner, pause, handed) do nothing`,
	pausesMet: `select pause, count(*), max(made) from pause_met where learner = $1 group by pause order by pause`,

	set: `insert into setting (learner, name, value) values ($1, $2, $3)
		on conflict (learner, name) do update set value = excluded.value`,
	settings: `select name, value from setting where learner = $1`,
}
