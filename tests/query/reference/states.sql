-- Outlets, withdrawn ones too.
CREATE TABLE o AS
SELECT i.id outlet, h.id IS NOT NULL here,
       h.id IS NOT NULL AND ifnull(s.cancelled, 0) = 0 wanted,
       n.room, n.number, r.code || n.number code
FROM (SELECT id FROM here WHERE kind = 'outlet' UNION SELECT outlet FROM outlet_number
      UNION SELECT outlet FROM outlet_standing) i
LEFT JOIN here h ON h.id = i.id LEFT JOIN s_ostand s ON s.outlet = i.id
LEFT JOIN s_number n ON n.outlet = i.id LEFT JOIN s_code r ON r.room = n.room;
CREATE UNIQUE INDEX o_outlet ON o (outlet);

-- Runs, withdrawn ones too, with the copper that lies there now. A first pull has the run's id.
CREATE TABLE c AS
SELECT i.cable, h.id IS NOT NULL here,
       h.id IS NOT NULL AND ifnull(s.cancelled, 0) = 0 wanted,
       ifnull(s.cancelled, 0) cancelled,
       n.outlet, n.letter, n.near, n.far, n.tie, l.rack, l.outlet far_outlet, m.medium, j.jacket,
       ifnull(p.pull, i.cable) pull, p.pull IS NOT NULL again, f.code frozen,
       CASE WHEN n.near IS NOT NULL THEN 'tie' WHEN l.outlet IS NOT NULL THEN 'local' ELSE 'home' END kind,
       CASE WHEN n.near IS NOT NULL
            THEN (SELECT space FROM s_space WHERE rack = n.near) || '/' ||
                 (SELECT space FROM s_space WHERE rack = n.far) || '-' || n.tie
            ELSE (SELECT code FROM o WHERE outlet = n.outlet) || '-' || n.letter END label
FROM (SELECT id cable FROM here WHERE kind = 'cable' UNION SELECT cable FROM cable_name UNION SELECT cable FROM former_name
      UNION SELECT cable FROM touched UNION SELECT cable FROM outcome UNION SELECT cable FROM test
      UNION SELECT cable FROM planned UNION SELECT cable FROM placement UNION SELECT cable FROM split
      UNION SELECT cable FROM mark UNION SELECT cable FROM lost UNION SELECT cable FROM footage UNION SELECT cable FROM cable_jacket
      UNION SELECT cable FROM cable_leaves) i
LEFT JOIN here h ON h.id = i.cable LEFT JOIN s_cstand s ON s.cable = i.cable
LEFT JOIN s_name n ON n.cable = i.cable LEFT JOIN s_leaves l ON l.cable = i.cable
LEFT JOIN s_medium m ON m.cable = i.cable LEFT JOIN s_jacket j ON j.cable = i.cable
LEFT JOIN s_repull p ON p.cable = i.cable LEFT JOIN s_frozen f ON f.cable = i.cable;
CREATE UNIQUE INDEX c_cable ON c (cable);

-- Runs on which work can be listed: wanted, and it is clear where they go.
CREATE TABLE open_course AS
SELECT c.cable, c.kind, c.outlet FROM c
LEFT JOIN o near ON near.outlet = c.outlet LEFT JOIN o far ON far.outlet = c.far_outlet
WHERE c.wanted AND c.kind <> 'tie'
  AND (ifnull(near.wanted, 0) = 0 OR c.kind = 'local' AND ifnull(far.wanted, 0) = 0);
CREATE TABLE w AS SELECT * FROM c WHERE wanted AND cable NOT IN (SELECT cable FROM open_course);
CREATE UNIQUE INDEX w_cable ON w (cable);

-- Every live placement of the copper that lies there now.
CREATE TABLE e AS
SELECT DISTINCT p.cable, p.cable || '.' || p.side || '.' || p.leg end, p.side, p.leg, p.status,
       p.place, p.panel, p.number, p.jack_of, p.direct, p.value, c.wanted, c.here, c.outlet, c.medium, c.kind, c.pull
FROM placement p JOIN c ON c.cable = p.cable AND c.pull = p.pull;
CREATE INDEX e_end ON e (end);
CREATE INDEX e_panel ON e (panel, number);

-- The parts of each end that must be settled: the whole end, or each leg of a split one.
CREATE TABLE part AS
WITH RECURSIVE n(leg) AS (SELECT 1 UNION ALL SELECT leg + 1 FROM n WHERE leg < 16),
sides AS (SELECT w.cable, w.pull, w.kind, w.outlet, s.side,
                 (SELECT legs FROM s_split x WHERE x.cable = w.cable AND x.pull = w.pull AND x.side = s.side) legs
          FROM c w, (SELECT 0 side UNION ALL SELECT 1) s WHERE w.wanted),
legs AS (SELECT sides.*, 0 leg FROM sides WHERE legs IS NULL
         UNION ALL SELECT sides.*, n.leg FROM sides JOIN n ON n.leg <= sides.legs)
SELECT legs.*, p.status, p.reason, legs.cable || '.' || legs.side || '.' || legs.leg end
FROM legs LEFT JOIN s_placement p
  ON p.cable = legs.cable AND p.pull = legs.pull AND p.side = legs.side AND p.leg = legs.leg;
CREATE INDEX part_cable ON part (cable, side);

-- Both ends of each run as a whole.
CREATE TABLE whole AS
SELECT cable, pull, outlet, side,
       sum(status IS NULL OR status = 'lifted') = 0 settled,
       sum(status IS NULL OR status NOT IN ('spare', 'dead')) = 0 out_of_use
FROM part GROUP BY cable, side;
CREATE UNIQUE INDEX whole_end ON whole (cable, side);
CREATE TABLE marked AS
SELECT whole.cable, whole.side, whole.outlet,
       m.ord IS NOT NULL AND (l.ord IS NULL OR l.ord < m.ord) marked
FROM whole LEFT JOIN s_mark m ON m.cable = whole.cable AND m.pull = whole.pull AND m.side = whole.side
LEFT JOIN s_lost l ON l.cable = whole.cable AND l.pull = whole.pull AND l.side = whole.side;
CREATE UNIQUE INDEX marked_end ON marked (cable, side);

-- How the pull went; whether an end is landed, the last test passed, a loose end is joined to the run
-- (which is not pulled anew), or somebody else in the same jacket was pulled.
CREATE TABLE pulled AS
SELECT c.cable, c.outlet, x.outcome,
       x.outcome IS 'pulled' OR x.outcome IS NULL AND c.cable IN (SELECT cable FROM part WHERE status = 'landed')
       OR x.outcome IS NULL AND EXISTS (
         SELECT 1 FROM s_test t WHERE t.cable = c.cable AND t.pull = c.pull AND t.passed = 1)
       OR x.outcome IS NULL AND NOT c.again AND c.cable IN (
         SELECT cable FROM loose_joined JOIN here ON here.id = loose WHERE cable IS NOT NULL)
       OR x.outcome IS NULL AND EXISTS (
         SELECT 1 FROM cable_jacket j JOIN c mate ON mate.cable = j.cable
         JOIN s_outcome y ON y.cable = mate.cable AND y.pull = mate.pull
         WHERE j.jacket = c.jacket AND mate.here AND mate.again = c.again AND y.outcome = 'pulled') done
FROM c LEFT JOIN s_outcome x ON x.cable = c.cable AND x.pull = c.pull WHERE c.wanted;
CREATE UNIQUE INDEX pulled_cable ON pulled (cable);
-- What proved copper proves nothing of an end that was landed then and was moved since: a live placement
-- is later than the test, and something else was said since than what was said last before it.
CREATE TABLE before AS
SELECT p.cable, p.pull, p.side, p.leg, p.status, p.value, t.ord tested, max(p.seq)
FROM placement_ever p JOIN s_test t ON t.cable = p.cable AND t.pull = p.pull
WHERE p.ord < t.ord GROUP BY p.cable, p.pull, p.side, p.leg;
CREATE TABLE moved AS
SELECT DISTINCT cable, pull FROM before b WHERE status = 'landed'
AND EXISTS (SELECT 1 FROM placement p WHERE p.cable = b.cable AND p.pull = b.pull
            AND p.side = b.side AND p.leg = b.leg AND p.ord > b.tested)
AND EXISTS (SELECT 1 FROM placement_ever p WHERE p.cable = b.cable AND p.pull = b.pull
            AND p.side = b.side AND p.leg = b.leg AND p.ord >= b.tested AND p.value <> b.value);
CREATE TABLE tested AS
SELECT c.cable, c.outlet,
       CASE WHEN t.passed = 1 AND EXISTS (SELECT 1 FROM moved m WHERE m.cable = c.cable AND m.pull = c.pull)
            THEN NULL ELSE t.passed END passed FROM c
LEFT JOIN s_test t ON t.cable = c.cable AND t.pull = c.pull WHERE c.wanted;
CREATE UNIQUE INDEX tested_cable ON tested (cable);

-- Outlets in walking order as far as room and code tell; those of no place are not in it.
CREATE TABLE walk AS
SELECT o.outlet, dense_rank() OVER (ORDER BY s_order.place NULLS LAST, s_code.code NULLS LAST) place
FROM o LEFT JOIN s_order ON s_order.room = o.room LEFT JOIN s_code ON s_code.room = o.room
WHERE s_order.place IS NOT NULL OR s_code.code IS NOT NULL;
