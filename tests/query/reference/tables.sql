-- One table for each kind of fact that a question reads.
CREATE TABLE added (kind TEXT, id INTEGER, ord INTEGER);
-- Whatever has one answer: the thing that must exist, the thing as written, the pull, the value.
CREATE TABLE setting (kind TEXT, owner INTEGER, thing TEXT, pull INTEGER, field TEXT, value TEXT, ord INTEGER);
CREATE TABLE room_code (room INTEGER, code TEXT, ord INTEGER);
CREATE TABLE room_order (room INTEGER, place INTEGER, ord INTEGER);
CREATE TABLE outlet_number (outlet INTEGER, room INTEGER, number INTEGER, ord INTEGER);
CREATE TABLE outlet_standing (outlet INTEGER, cancelled INTEGER, ord INTEGER);
CREATE TABLE outlet_order (outlet INTEGER, number TEXT, ord INTEGER);
CREATE TABLE outlet_tag (outlet INTEGER, ord INTEGER);
-- Who said something of the copper of a run, and what of that was known to whoever took it out of the job; the
-- act is NULL in one row of each that says what was known.
CREATE TABLE work (cable INTEGER, pull INTEGER, act TEXT, ord INTEGER);
CREATE TABLE foreseen (cable INTEGER, act TEXT, ord INTEGER);
-- The same of whoever pulled it anew.
CREATE TABLE passed (cable INTEGER, act TEXT, ord INTEGER);
CREATE TABLE cable_order (cable INTEGER, number TEXT, ord INTEGER);
CREATE TABLE cable_name (cable INTEGER, outlet INTEGER, letter TEXT, near INTEGER, far INTEGER, tie INTEGER, ord INTEGER);
-- The last name of each run that was withdrawn together with its name: the code stays taken.
CREATE TABLE former_name (cable INTEGER, outlet INTEGER, letter TEXT, near INTEGER, far INTEGER, tie INTEGER, ord INTEGER);
CREATE TABLE cable_leaves (cable INTEGER, rack INTEGER, outlet INTEGER, ord INTEGER);
CREATE TABLE cable_medium (cable INTEGER, medium TEXT, ord INTEGER);
CREATE TABLE kept_tag (cable INTEGER, tag TEXT, called TEXT, ord INTEGER);
CREATE TABLE cable_jacket (cable INTEGER, jacket INTEGER, ord INTEGER);
CREATE TABLE cable_standing (cable INTEGER, cancelled INTEGER, ord INTEGER);
CREATE TABLE cable_repull (cable INTEGER, pull INTEGER, ord INTEGER);
CREATE TABLE outcome (cable INTEGER, pull INTEGER, outcome TEXT, ord INTEGER);
CREATE TABLE test (cable INTEGER, pull INTEGER, passed INTEGER, certified INTEGER, ord INTEGER);
CREATE TABLE touched (cable INTEGER, ord INTEGER);
CREATE TABLE planned (cable INTEGER, side INTEGER, leg INTEGER, place TEXT, panel INTEGER, number INTEGER, ord INTEGER);
CREATE TABLE placement (cable INTEGER, pull INTEGER, side INTEGER, leg INTEGER, status TEXT, place TEXT, panel INTEGER, number INTEGER, jack_of INTEGER, direct INTEGER, reason TEXT, value TEXT, ord INTEGER);
-- Every placement that was ever said, the replaced and struck ones too, by its place among them, each with
-- the rank of the last live fact up to it.
CREATE TABLE placement_ever (cable INTEGER, pull INTEGER, side INTEGER, leg INTEGER, status TEXT, place TEXT, panel INTEGER, number INTEGER, jack_of INTEGER, direct INTEGER, reason TEXT, value TEXT, seq INTEGER, ord INTEGER);
CREATE TABLE split (cable INTEGER, pull INTEGER, side INTEGER, legs INTEGER, ord INTEGER);
CREATE TABLE mark (cable INTEGER, pull INTEGER, side INTEGER, code TEXT, is_on INTEGER, ord INTEGER);
CREATE TABLE footage (cable INTEGER, pull INTEGER, side INTEGER, value INTEGER, unit TEXT, ord INTEGER);
CREATE TABLE lost (cable INTEGER, pull INTEGER, side INTEGER, ord INTEGER);
CREATE TABLE rack_space (rack INTEGER, space TEXT, ord INTEGER);
CREATE TABLE panel_make (panel INTEGER, connector TEXT, size INTEGER, ord INTEGER);
CREATE TABLE panel_rack (panel INTEGER, rack INTEGER, ord INTEGER);
CREATE TABLE rack_build (rack INTEGER, units INTEGER, ord INTEGER);
CREATE TABLE panel_unit (panel INTEGER, unit INTEGER, ord INTEGER);
CREATE TABLE panel_high (panel INTEGER, units INTEGER, ord INTEGER);
CREATE TABLE device_mount (device INTEGER, rack INTEGER, unit INTEGER, height INTEGER, face TEXT, ord INTEGER);
CREATE TABLE block_mount (block INTEGER, rack INTEGER, unit INTEGER, height INTEGER, face TEXT, ord INTEGER);
CREATE TABLE block_standing (block INTEGER, cancelled INTEGER, ord INTEGER);
CREATE TABLE panel_letters (panel INTEGER, letters TEXT, ord INTEGER);
CREATE TABLE patched (panel INTEGER, position TEXT, own TEXT, place TEXT, ord INTEGER);
CREATE TABLE kept (panel INTEGER, number INTEGER, state TEXT, ord INTEGER);
CREATE TABLE loose_number (loose INTEGER, number INTEGER, ord INTEGER);
CREATE TABLE conduit_number (conduit INTEGER, number INTEGER, ord INTEGER);
CREATE TABLE conduit_standing (conduit INTEGER, cancelled INTEGER, ord INTEGER);
CREATE TABLE loose_joined (loose INTEGER, cable INTEGER, end TEXT, ord INTEGER);

-- The media of four pairs that are made to a category.
CREATE TABLE category (medium TEXT);
INSERT INTO category VALUES ('cat6-utp'), ('cat6-ftp'), ('cat6a-ftp'), ('cat6-utp+burial'), ('cat6-ftp+burial'), ('cat6a-ftp+burial');

CREATE TABLE finding (gate INTEGER, outlet INTEGER, kind TEXT, args TEXT);

-- Common practice, no source: the connectors whose positions take one end, ...
CREATE TABLE takes_one (connector TEXT);
INSERT INTO takes_one VALUES ('8p8c'), ('8p8c-shielded'), ('f'), ('rca'), ('bnc'), ('speaker'), ('lc'), ('sc');
-- ... and the media that go straight on a connector.
CREATE TABLE fits (medium TEXT, connector TEXT);
INSERT INTO fits VALUES
  ('cat6-utp', '8p8c'), ('cat6-utp', 'punch'),
  ('cat6-ftp', '8p8c-shielded'), ('cat6a-ftp', '8p8c-shielded'),
  ('rg6', 'f'), ('rg59', 'f'), ('rg59', 'bnc'), ('rg59', 'rca'),
  ('speaker-16-4', 'speaker'),
  ('control-18-4', 'alarm'), ('control-18-4', 'punch'),
  ('shade-data', 'alarm'), ('shade-data', 'punch'), ('shade-data', '8p8c'),
  ('fibre-2', 'lc'), ('fibre-2', 'sc');
