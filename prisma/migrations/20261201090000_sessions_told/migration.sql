-- Whoever is signed in sees where: what each session was begun with, and when it was last used.

SET lock_timeout = '2s';

-- ---------------------------------------------------------------- tables

-- Both are unknown of sessions that began before.
ALTER TABLE "staff_session" ADD COLUMN "program" TEXT, ADD COLUMN "used_at" TIMESTAMPTZ(6);

-- ---------------------------------------------------------------- guards

-- A few words, never the whole of what a browser sends: that is long, and somebody else's.
ALTER TABLE staff_session
  ADD CONSTRAINT staff_session_program_is_short CHECK (length(program) BETWEEN 1 AND 60),
  ADD CONSTRAINT staff_session_used_since_start CHECK (used_at >= started_at);

-- What has ended stays ended, whoever comes late; and a session is told as what it was begun with.
CREATE OR REPLACE FUNCTION check_session_change() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD.ended_at IS NOT NULL
    OR to_jsonb(NEW) - '{idle_until,used_at,ended_at}'::text[]
      <> to_jsonb(OLD) - '{idle_until,used_at,ended_at}'::text[]
  THEN
    PERFORM refuse(TG_NAME, format('%s of session %s', lower(TG_OP), OLD.id));
  END IF;
  RETURN NEW;
END $$;

-- ---------------------------------------------------------------- who may

GRANT UPDATE (used_at) ON staff_session TO evenhand_app;
