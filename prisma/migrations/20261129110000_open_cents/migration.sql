-- What the flags that wait for an answer come to together: two about one charge count once, and what
-- was dismissed counts nowhere.

SET lock_timeout = '2s';

ALTER TABLE "audit_judgement" ADD COLUMN "open_cents" INTEGER;

-- Of tickets judged before: no more than all flags come to, and no more than those that wait say.
UPDATE audit_judgement j SET open_cents = least(j.over_cents, coalesce((
  SELECT sum(f.over_cents) FROM audit_flag f JOIN audit_flag_state s ON s.flag_id = f.id
  WHERE f.ticket_id = j.ticket_id AND s.state = 'open'), 0));

-- Where something was dismissed the exact sum takes the rules, so those are judged again, from the
-- next run over all tickets or answer on.
UPDATE audit_judgement j SET facts_hash = repeat('0', 64)
WHERE EXISTS (SELECT 1 FROM audit_flag f JOIN audit_flag_state s ON s.flag_id = f.id
  WHERE f.ticket_id = j.ticket_id AND s.state = 'dismissed');

ALTER TABLE "audit_judgement" ALTER COLUMN "open_cents" SET NOT NULL;
ALTER TABLE audit_judgement ADD CONSTRAINT audit_judgement_open_sane CHECK (open_cents >= 0);

GRANT UPDATE (open_cents) ON audit_judgement TO evenhand_app;
