package store

// The statements of class mode; see sql.go.

const (
	accountColumns = `c.id, c.learner, l.name, coalesce(c.login, ''), c.passphrase, c.code is not null, c.instructor, c.active, c.made`
	accountFrom    = ` from account c join learner l on l.id = c.learner `

	classColumns = `c.id, c.title, c.secret, c.round, c.joining is not null, c.made, c.ended`

	memberColumns = `m.class, c.title, c.ended, m.account, a.learner, case when c.ended = '' then l.name else '' end, m.role,
		coalesce(m.external, ''), m.team, a.passphrase <> '', a.code is not null, m.active, m.made`
	memberFrom = ` from member m join class c on c.id = m.class join account a on a.id = m.account join learner l on l.id = a.learner `

	setColumns      = `p.id, p.class, p.rules, p.revision, p.made, p.released`
	drawColumns     = `d.set_id, d.learner, d.template, d.n, d.handed`
	overrideColumns = `o.id, o.key, o.handed, o.question, o.attempt, o.marks, o.reason, o.author, o.made`
	lookColumns     = `k.id, k.class, k.set_id, k.handed, k.question, k.text, k.state, k.reply, k.author, k.made, k.answered`
	// leavers are those whose only class this is.
	leavers = ` from member m join account a on a.id = m.account
		where m.class = $1 and a.instructor = 0 and not exists (
			select 1 from member n join class c on c.id = n.class
			where n.account = m.account and n.class <> m.class and n.active = 1 and c.ended = '')`

	draftColumns = `f.handed, f.question, f.text, f.working, f.made`
)

type classStatements struct {
	addInstance, instance string

	addInvitation, invitation, useInvitation, dropSetups, byJoining string
	addAccount, account, accountOf, byLogin, byCode, loginTaken     string
	setSignIn, setCode, setActive, hasInstructor, otherInstructor   string
	makeInstructor                                                  string

	addSession, session, touchSession, endSession, endSessions, endAllSessions, sessionsOf string
	knock, forgive, sweepSessions, sweepInvitations, sweepKnocks                           string

	addClass, renameClass, setJoining, joiningTaken, class                              string
	addMember, changeMember, setRole, classesOf, member, members, byExternal            string
	endClass, endMembers, endInvitations, forgetName, forgetSessions, forgetSignIn      string
	endDrafts, endLooks, endOverrides                                                   string
	addSet, changeSet, releaseSet, problemSet, setsOf                                   string
	setAllowance, allowance, allowances, allowancesOf                                   string
	addDraw, draw, drawOf, drawsOf, drawsIn, drawsOfLearner, mayDraw, attemptsIn        string
	addOverride, overrideByKey, overridesOf, overridesIn, overridesOfLearner            string
	addLook, look, lookByKey, answerLook, looksOf, looksIn, looksOfLearner              string
	saveDraft, draftsOf, draftsIn, draftsOfLearner                                      string
	handedOfLearner, attemptsOfLearner, openedOfLearner, accountInstructor, dropLearner string
}

var classStmts = classStatements{
	addInstance: `insert into instance (one, secret, made) values (1, $1, $2) on conflict (one) do nothing`,
	instance:    `select secret from instance where one = 1`,

	addInvitation: `insert into invitation (hash, class, role, setup, made, expires)
		values ($1, nullif(cast($2 as text), ''), $3, $4, $5, $6)`,
	invitation: `select coalesce(i.class, ''), coalesce(c.title, ''), i.role, i.setup
		from invitation i left join class c on c.id = i.class
		where i.hash = $1 and i.expires > $2 and coalesce(c.ended, '') = ''`,
	useInvitation: `delete from invitation where hash = $1`,
	dropSetups:    `delete from invitation where setup = 1`,
	byJoining:     `select id, title, 'learner', 0 from class where joining = $1 and ended = ''`,

	addAccount: `insert into account (id, learner, login, passphrase, code, instructor, active, made)
		values ($1, $2, nullif(cast($3 as text), ''), $4, nullif(cast($5 as text), ''), $6, 1, $7)`,
	account:         `select ` + accountColumns + accountFrom + `where c.id = $1`,
	accountOf:       `select ` + accountColumns + accountFrom + `where c.learner = $1`,
	byLogin:         `select ` + accountColumns + accountFrom + `where c.login = $1`,
	byCode:          `select ` + accountColumns + accountFrom + `where c.code = $1`,
	loginTaken:      `select exists (select 1 from account where login = $1 and id <> $2)`,
	setSignIn:       `update account set login = nullif(cast($2 as text), ''), passphrase = $3 where id = $1`,
	setCode:         `update account set code = nullif(cast($2 as text), ''), passphrase = '' where id = $1`,
	setActive:       `update account set active = $2 where id = $1`,
	hasInstructor:   `select exists (select 1 from account where instructor = 1 and active = 1)`,
	otherInstructor: `select exists (select 1 from account where instructor = 1 and active = 1 and id <> $1)`,
	makeInstructor:  `update account set instructor = 1 where id = $1`,

	addSession: `insert into session (hash, account, made, seen, expires) values ($1, $2, $3, $4, $5)`,
	session: `select s.hash, s.account, s.made, s.seen, s.expires from session s join account c on c.id = s.account
		where s.hash = $1 and s.expires > $2 and c.active = 1`,
	touchSession:     `update session set seen = $2 where hash = $1`,
	endSession:       `delete from session where hash = $1`,
	endSessions:      `delete from session where account = $1 and hash <> $2`,
	endAllSessions:   `delete from session where account = $1`,
	sessionsOf:       `select '', s.account, s.made, s.seen, s.expires from session s where s.account = $1 order by s.made`,
	knock:            `insert into knock (name, count, until) values ($1, 1, $3) on conflict (name) do update set count = case when knock.until > $2 then knock.count + 1 else 1 end, until = case when knock.until > $2 then knock.until else excluded.until end returning count`,
	forgive:          `update knock set count = case when count > $2 then count - $2 else 0 end where name = $1`,
	sweepSessions:    `delete from session where expires <= $1`,
	sweepInvitations: `delete from invitation where expires <= $1`,
	sweepKnocks:      `delete from knock where until <= $1`,

	addClass:     `insert into class (id, title, secret, round, made, ended) values ($1, $2, $3, 0, $4, '')`,
	renameClass:  `update class set title = $2 where id = $1`,
	setJoining:   `update class set round = $2, joining = nullif(cast($3 as text), '') where id = $1 and ended = ''`,
	joiningTaken: `select exists (select 1 from class where joining = $1 and id <> $2)`,
	class:        `select ` + classColumns + ` from class c where c.id = $1`,

	addMember: `insert into member (class, account, role, external, team, active, made)
		values ($1, $2, $3, nullif(cast($4 as text), ''), $5, 1, $6)
		on conflict (class, account) do update set active = 1`,
	changeMember: `update member set team = $3, active = 1 where class = $1 and account = $2`,
	setRole:      `update member set role = $3, active = $4 where class = $1 and account = $2`,
	classesOf:    `select ` + memberColumns + memberFrom + `where m.account = $1 order by c.seq`,
	member:       `select ` + memberColumns + memberFrom + `where m.class = $1 and m.account = $2`,
	members:      `select ` + memberColumns + memberFrom + `where m.class = $1 order by l.name, m.account`,
	byExternal:   `select ` + memberColumns + memberFrom + `where m.class = $1 and m.external = $2`,

	endClass:       `update class set ended = $2, joining = null where id = $1 and ended = ''`,
	endMembers:     `update member set external = null, team = '' where class = $1`,
	endInvitations: `delete from invitation where class = $1`,
	forgetName:     `update learner set name = '' where id in (select a.learner` + leavers + `)`,
	forgetSessions: `delete from session where account in (select a.id` + leavers + `)`,
	forgetSignIn: `update account set login = null, passphrase = '', code = null, active = 0
		where id in (select a.id` + leavers + `)`,
	endDrafts: `delete from draft where handed in (select d.handed from problem_set p join set_draw d on d.set_id = p.id where p.class = $1)`,
	endLooks:  `update second_look set text = '', reply = '' where class = $1`,
	endOverrides: `update mark_override set reason = '' where handed in (
		select d.handed from problem_set p join set_draw d on d.set_id = p.id where p.class = $1)`,

	addSet:     `insert into problem_set (id, class, rules, revision, made, released) values ($1, $2, $3, 1, $4, '')`,
	changeSet:  `update problem_set set rules = $3, revision = revision + 1 where id = $1 and revision = $2`,
	releaseSet: `update problem_set set released = $2 where id = $1`,
	problemSet: `select ` + setColumns + ` from problem_set p where p.id = $1`,
	setsOf:     `select ` + setColumns + ` from problem_set p where p.class = $1 order by p.seq`,

	setAllowance: `insert into allowance (set_id, learner, rules, made) values ($1, $2, $3, $4)
		on conflict (set_id, learner) do update set rules = excluded.rules, made = excluded.made`,
	allowance:    `select learner, rules from allowance where set_id = $1 and learner = $2`,
	allowances:   `select learner, rules from allowance where set_id = $1`,
	allowancesOf: `select set_id, rules from allowance where learner = $1`,

	addDraw: `insert into set_draw (set_id, learner, template, n, handed) values ($1, $2, $3, $4, $5)`,
	draw: `select ` + handedColumns + ` from set_draw d join handed h on h.id = d.handed
		where d.set_id = $1 and d.learner = $2 and d.template = $3 and d.n = $4`,
	drawOf:         `select ` + drawColumns + ` from set_draw d where d.handed = $1`,
	drawsOf:        `select ` + drawColumns + ` from set_draw d where d.set_id = $1 and d.learner = $2 order by d.template, d.n`,
	drawsIn:        `select ` + drawColumns + ` from set_draw d where d.set_id = $1 order by d.learner, d.template, d.n`,
	drawsOfLearner: `select ` + drawColumns + ` from set_draw d where d.learner = $1 order by d.set_id, d.template, d.n`,
	mayDraw: `select c.ended from problem_set p join class c on c.id = p.class
		join account a on a.learner = $2 join member m on m.class = c.id and m.account = a.id
		where p.id = $1 and m.active = 1`,
	attemptsIn: `select ` + drawColumns + `, a.id, a.question, a.text, a.number, a.try, a.helped, a.outcome, a.slip, a.marks,
			exists (select 1 from opened o where o.handed = a.handed and o.question = a.question
				and o.what = 'not_that' and o.number = a.number), a.made
		from set_draw d join attempt a on a.handed = d.handed
		where d.set_id = $1 order by a.seq`,

	addOverride: `insert into mark_override (id, key, handed, question, attempt, marks, reason, author, made)
		values ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
	overrideByKey: `select ` + overrideColumns + ` from mark_override o where o.key = $1`,
	overridesOf:   `select ` + overrideColumns + ` from mark_override o where o.handed = $1 order by o.seq`,
	overridesIn: `select ` + overrideColumns + ` from set_draw d join mark_override o on o.handed = d.handed
		where d.set_id = $1 order by o.seq`,
	overridesOfLearner: `select ` + overrideColumns + ` from handed h join mark_override o on o.handed = h.id
		where h.learner = $1 order by o.seq`,

	addLook: `insert into second_look (id, key, class, set_id, handed, question, text, state, reply, author, made, answered)
		select cast($1 as text), cast($2 as text), p.class, p.id, d.handed, cast($4 as text), cast($5 as text), 'open', '', '', cast($6 as text), ''
		from set_draw d join problem_set p on p.id = d.set_id where d.handed = $3 and d.learner = $7`,
	look:       `select ` + lookColumns + ` from second_look k where k.id = $1`,
	lookByKey:  `select ` + lookColumns + ` from second_look k where k.key = $1`,
	answerLook: `update second_look set state = $3, reply = $4, author = $5, answered = $6 where id = $1 and state = $2`,
	looksOf:    `select ` + lookColumns + ` from second_look k where k.handed = $1 order by k.seq`,
	looksIn:    `select ` + lookColumns + ` from second_look k where k.class = $1 and k.state = $2 order by k.seq`,
	looksOfLearner: `select ` + lookColumns + ` from handed h join second_look k on k.handed = h.id
		where h.learner = $1 order by k.seq`,

	saveDraft: `insert into draft (handed, question, text, working, made) values ($1, $2, $3, $4, $5)
		on conflict (handed, question) do update set text = excluded.text, working = excluded.working, made = excluded.made`,
	draftsOf: `select ` + draftColumns + ` from draft f where f.handed = $1 order by f.question`,
	draftsIn: `select ` + draftColumns + ` from set_draw d join draft f on f.handed = d.handed
		where d.set_id = $1 order by f.handed, f.question`,
	draftsOfLearner: `select ` + draftColumns + ` from handed h join draft f on f.handed = h.id
		where h.learner = $1 order by f.handed, f.question`,

	handedOfLearner:   `select ` + handedColumns + ` from handed h where h.learner = $1 order by h.seq`,
	attemptsOfLearner: `select ` + attemptColumns + ` from attempt a where a.learner = $1 order by a.seq`,
	openedOfLearner: `select ` + openedColumns + ` from handed h join opened o on o.handed = h.id
		where h.learner = $1 order by o.seq`,
	accountInstructor: `select id, instructor from account where learner = $1`,
	dropLearner:       `delete from learner where id = $1`,
}
