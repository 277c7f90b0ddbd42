-- What a photo of a visit shows and how large it is; and which photo shows a reading.

SET lock_timeout = '2s';

-- The default is for the version before this one, which serves on while this runs and says neither.
ALTER TABLE visit_photo
  ADD COLUMN shows TEXT NOT NULL DEFAULT 'other',
  ADD COLUMN width_px INTEGER,
  ADD COLUMN height_px INTEGER,
  ADD CONSTRAINT visit_photo_shows_known
    CHECK (shows IN ('meter_face', 'nameplate', 'old_part', 'place', 'other')),
  -- Photos from before have no size on record; half a size is none.
  ADD CONSTRAINT visit_photo_size_whole
    CHECK (num_nulls(width_px, height_px) IN (0, 2) AND width_px > 0 AND height_px > 0);

ALTER TABLE reading ADD COLUMN photo_sha256 TEXT;
ALTER TABLE reading ADD CONSTRAINT reading_photo_of_the_visit
  FOREIGN KEY (visit_id, photo_sha256) REFERENCES visit_photo (visit_id, sha256);
