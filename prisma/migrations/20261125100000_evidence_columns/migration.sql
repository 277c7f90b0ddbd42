-- What verdicts on air, refrigerant and sensors rest on, beyond the first nameplate.

SET lock_timeout = '2s';

ALTER TABLE "equipment"
  ADD COLUMN "transformer_va" DOUBLE PRECISION,
  ADD COLUMN "capacitor_blower_uf" DOUBLE PRECISION,
  ADD COLUMN "start_capacitor_uf_min" DOUBLE PRECISION,
  ADD COLUMN "start_capacitor_uf_max" DOUBLE PRECISION,
  ADD COLUMN "external_static_max_in_wc" DOUBLE PRECISION,
  ADD COLUMN "target_subcooling_deg_f" DOUBLE PRECISION,
  ADD COLUMN "seer" DOUBLE PRECISION,
  ADD COLUMN "line_set_included_ft" DOUBLE PRECISION,
  ADD COLUMN "line_set_oz_per_ft" DOUBLE PRECISION,
  ADD COLUMN "marked_for_a2l" BOOLEAN,
  ADD COLUMN "heat_input_btuh" DOUBLE PRECISION,
  ADD COLUMN "heat_efficiency_percent" DOUBLE PRECISION,
  ADD COLUMN "heat_kw" DOUBLE PRECISION,
  ADD COLUMN "sensor_ohms_at77_f" DOUBLE PRECISION,
  ADD COLUMN "sensor_beta_k" DOUBLE PRECISION,
  ADD COLUMN "reversing_valve_on" TEXT,
  -- Verdicts reckon with these; a factory charge may be made for no line set at all.
  ADD CONSTRAINT "equipment_evidence_figures_positive" CHECK (
    least(
      "transformer_va", "capacitor_blower_uf", "start_capacitor_uf_min", "start_capacitor_uf_max",
      "external_static_max_in_wc", "target_subcooling_deg_f", "seer", "line_set_oz_per_ft",
      "heat_input_btuh", "heat_efficiency_percent", "heat_kw", "sensor_ohms_at77_f",
      "sensor_beta_k") > 0
    AND "line_set_included_ft" >= 0);

-- Air is thinner higher up: gauges read against it, and it carries less heat.
ALTER TABLE "site"
  ADD COLUMN "altitude_ft" INTEGER,
  ADD CONSTRAINT "site_altitude_inhabited" CHECK ("altitude_ft" BETWEEN -300 AND 14000);

-- The figure and the unit as the gauge showed them; both or neither.
ALTER TABLE "reading"
  ADD COLUMN "shown_value" DOUBLE PRECISION,
  ADD COLUMN "shown_unit" TEXT,
  ADD CONSTRAINT "reading_shown_whole"
    CHECK (("shown_value" IS NULL) = ("shown_unit" IS NULL)),
  ADD CONSTRAINT "reading_shown_finite"
    CHECK ("shown_value" > '-Infinity'::float8 AND "shown_value" < 'Infinity'::float8);
