-- A second factor beside the password: the secret of an app that shows codes, and recovery codes.

SET lock_timeout = '2s';

-- ---------------------------------------------------------------- tables

CREATE TABLE "staff_second_factor" (
    "id" UUID NOT NULL,
    "staff_id" UUID NOT NULL,
    "sealed_secret" BYTEA,
    "begun_at" TIMESTAMPTZ(6) NOT NULL,
    "confirmed_at" TIMESTAMPTZ(6),
    "last_step" INTEGER,
    "ended_at" TIMESTAMPTZ(6),
    CONSTRAINT "staff_second_factor_pkey" PRIMARY KEY ("id")
);
CREATE TABLE "staff_recovery_code" (
    "second_factor_id" UUID NOT NULL,
    "place" SMALLINT NOT NULL,
    "hash" TEXT NOT NULL,
    "used_at" TIMESTAMPTZ(6),
    CONSTRAINT "staff_recovery_code_pkey" PRIMARY KEY ("second_factor_id", "place")
);

CREATE INDEX "staff_second_factor_staff_id_idx" ON "staff_second_factor"("staff_id");
-- One for each person; the one that was begun before it, or ended, is over.
CREATE UNIQUE INDEX staff_second_factor_one_each ON staff_second_factor (staff_id)
  WHERE ended_at IS NULL;

ALTER TABLE "staff_second_factor" ADD CONSTRAINT "staff_second_factor_staff_id_fkey"
  FOREIGN KEY ("staff_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "staff_recovery_code" ADD CONSTRAINT "staff_recovery_code_second_factor_id_fkey"
  FOREIGN KEY ("second_factor_id") REFERENCES "staff_second_factor"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------- guards

ALTER TABLE staff_second_factor
  -- A nonce, a tag and twenty bytes; the bare secret would be shorter.
  ADD CONSTRAINT staff_second_factor_sealed CHECK (octet_length(sealed_secret) = 48),
  -- What is over has no secret any more, and what is not has one.
  ADD CONSTRAINT staff_second_factor_secret_until_end CHECK
    ((sealed_secret IS NULL) = (ended_at IS NOT NULL)),
  -- It counts from the first right code on, and that code is used up.
  ADD CONSTRAINT staff_second_factor_confirmed_by_code CHECK
    ((confirmed_at IS NULL) = (last_step IS NULL));

ALTER TABLE staff_recovery_code
  ADD CONSTRAINT staff_recovery_code_place CHECK (place BETWEEN 0 AND 9),
  -- Never the code itself, nor a hash that is quick to guess.
  ADD CONSTRAINT staff_recovery_code_is_argon2id CHECK
    (hash ~ '^\$argon2id\$v=19\$m=\d+,t=\d+,p=\d+\$[A-Za-z0-9+/]+\$[A-Za-z0-9+/]{43}$');

-- What has ended stays ended, and a secret is one person's.
CREATE FUNCTION check_second_factor_change() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD.ended_at IS NOT NULL
    OR (OLD.confirmed_at IS NOT NULL AND NEW.confirmed_at IS DISTINCT FROM OLD.confirmed_at)
    OR (NEW.sealed_secret IS NOT NULL AND NEW.sealed_secret <> OLD.sealed_secret)
    OR to_jsonb(NEW) - '{sealed_secret,confirmed_at,last_step,ended_at}'::text[]
      <> to_jsonb(OLD) - '{sealed_secret,confirmed_at,last_step,ended_at}'::text[]
  THEN
    PERFORM refuse(TG_NAME, format('%s of second factor %s', lower(TG_OP), OLD.id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER staff_second_factor_ends_once BEFORE UPDATE OR DELETE ON staff_second_factor
  FOR EACH ROW EXECUTE FUNCTION check_second_factor_change();

-- A code is good once: the step of the last one that was used only grows. Whoever writes the same
-- step again uses the same code again.
CREATE FUNCTION check_second_factor_step() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF OLD.last_step IS NOT NULL AND (NEW.last_step > OLD.last_step) IS NOT TRUE THEN
    PERFORM refuse(TG_NAME, format('step of second factor %s', OLD.id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER staff_second_factor_step_grows BEFORE UPDATE OF last_step ON staff_second_factor
  FOR EACH ROW EXECUTE FUNCTION check_second_factor_step();

CREATE FUNCTION check_recovery_code_change() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD.used_at IS NOT NULL
    OR to_jsonb(NEW) - 'used_at' <> to_jsonb(OLD) - 'used_at'
  THEN
    PERFORM refuse(TG_NAME,
      format('%s of recovery code %s of %s', lower(TG_OP), OLD.place, OLD.second_factor_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER staff_recovery_code_used_once BEFORE UPDATE OR DELETE ON staff_recovery_code
  FOR EACH ROW EXECUTE FUNCTION check_recovery_code_change();

CREATE TRIGGER staff_second_factor_never_emptied BEFORE TRUNCATE ON staff_second_factor
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER staff_recovery_code_never_emptied BEFORE TRUNCATE ON staff_recovery_code
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

REVOKE EXECUTE ON FUNCTION check_second_factor_change(), check_second_factor_step(),
  check_recovery_code_change() FROM PUBLIC;

-- ---------------------------------------------------------------- who may

-- Reports have no use for any of this.
GRANT SELECT, INSERT ON staff_second_factor, staff_recovery_code TO evenhand_app;
GRANT UPDATE (sealed_secret, confirmed_at, last_step, ended_at) ON staff_second_factor
  TO evenhand_app;
GRANT UPDATE (used_at) ON staff_recovery_code TO evenhand_app;
