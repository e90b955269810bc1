-- Gate 0: now. What contradicts itself.
INSERT INTO finding
SELECT 0, max(jack_of), 'DoubleClaim', place || ' : ' || group_concat(end, ',' ORDER BY end)
FROM (SELECT DISTINCT e.place, e.panel, e.end, e.jack_of FROM e LEFT JOIN s_make m ON m.panel = e.panel
      WHERE e.place IS NOT NULL
        AND (e.panel IS NULL OR m.connector IN (SELECT connector FROM takes_one)))
GROUP BY place HAVING count(*) > 1;

-- A cord is plugged in at the front that it is noted of and at the place that it goes to. Noted from
-- both of two fronts it is one cord. A cable that is landed at such a place is plugged in there too.
CREATE TABLE cord AS SELECT DISTINCT position, own, place FROM patched
WHERE place IS NOT NULL AND panel IN (SELECT id FROM here);
CREATE TABLE plug AS
SELECT place, position FROM cord
UNION
SELECT own, position FROM cord a
WHERE NOT EXISTS (SELECT 1 FROM cord b WHERE b.place = a.own AND b.own = a.place);
CREATE TABLE landing AS SELECT DISTINCT place, end FROM e WHERE place IS NOT NULL;
INSERT INTO finding
SELECT 0, NULL, 'PatchedTwice', p.place || ' : ' || group_concat(p.position, ',' ORDER BY p.position) || ' : ' ||
       ifnull((SELECT group_concat(end, ',' ORDER BY end) FROM landing WHERE landing.place = p.place), '')
FROM plug p GROUP BY p.place
HAVING count(*) + (SELECT count(*) FROM landing WHERE landing.place = p.place) > 1;

CREATE TABLE odd_end AS
SELECT end, outlet, count(DISTINCT place) places FROM e WHERE here GROUP BY end HAVING count(DISTINCT value) > 1;
INSERT INTO finding
SELECT 0, outlet, 'EndAtTwoPlaces', end || ' : ' ||
       (SELECT group_concat(place, ',' ORDER BY place) FROM (SELECT DISTINCT place FROM e WHERE e.end = odd_end.end AND place IS NOT NULL))
FROM odd_end WHERE places > 1;
INSERT INTO finding SELECT 0, outlet, 'EndDisputed', end FROM odd_end WHERE places < 2;
-- What is landed is a whole end where it is not split, and a leg of a split one; out of use as a whole is none
-- that is split.
INSERT INTO finding
SELECT DISTINCT 0, e.outlet, 'EndDisputed', e.end FROM e
LEFT JOIN s_split s ON s.cable = e.cable AND s.pull = e.pull AND s.side = e.side
WHERE e.here AND (e.status = 'landed' OR e.status <> 'lifted' AND e.leg = 0) AND e.end NOT IN (SELECT end FROM odd_end)
  AND CASE WHEN s.legs IS NULL THEN e.leg > 0 ELSE e.leg = 0 OR e.leg > s.legs END;

CREATE TABLE ever_name AS SELECT * FROM cable_name UNION ALL SELECT * FROM former_name;
CREATE TABLE code_of AS
SELECT cable, frozen code FROM c WHERE frozen IS NOT NULL
UNION
SELECT c.cable, o.code || '-' || n.letter FROM c JOIN ever_name n ON n.cable = c.cable
JOIN o ON o.outlet = n.outlet WHERE c.frozen IS NULL AND o.code IS NOT NULL
UNION
SELECT c.cable, near.space || '/' || far.space || '-' || n.tie FROM c JOIN ever_name n ON n.cable = c.cable
JOIN s_space near ON near.rack = n.near JOIN s_space far ON far.rack = n.far WHERE c.frozen IS NULL;
-- A run that is out of the job claims its code only where that was written on it.
DELETE FROM code_of WHERE cable IN (SELECT cable FROM c WHERE NOT wanted AND frozen IS NULL);
CREATE TABLE outlet_code AS
SELECT DISTINCT o.outlet, o.wanted, r.code || n.number code FROM outlet_number n
JOIN o ON o.outlet = n.outlet JOIN s_code r ON r.room = n.room
WHERE o.here AND (o.wanted OR o.outlet IN (SELECT outlet FROM outlet_tag)
  OR o.outlet IN (SELECT x.outlet FROM cable_name x JOIN mark m ON m.cable = x.cable));
CREATE TABLE outlet_twice AS SELECT outlet, code FROM outlet_code
WHERE code IN (SELECT code FROM outlet_code GROUP BY code HAVING count(*) > 1 AND max(wanted));
-- Codes whose runs all feed outlets that share one code: what is wrong is the outlets.
CREATE TABLE outlets_fault AS
SELECT k.code FROM code_of k JOIN c ON c.cable = k.cable JOIN outlet_twice t ON t.outlet = c.outlet
GROUP BY k.code, t.code
HAVING count(*) = (SELECT count(*) FROM code_of x WHERE x.code = k.code) AND count(DISTINCT c.outlet) = count(*);
INSERT INTO finding
SELECT 0, NULL, 'CodeTwice', group_concat(code_of.cable, ',' ORDER BY code_of.cable)
FROM code_of JOIN c ON c.cable = code_of.cable WHERE code NOT IN (SELECT code FROM outlets_fault)
GROUP BY code HAVING count(*) > 1 AND max(c.wanted);
INSERT INTO finding
SELECT 0, NULL, 'OutletCodeTwice', group_concat(outlet, ',' ORDER BY outlet)
FROM outlet_twice GROUP BY code;
INSERT INTO finding
SELECT 0, NULL, 'RoomCodeTwice', group_concat(room, ',' ORDER BY room)
FROM (SELECT DISTINCT room, code FROM room_code JOIN here ON here.id = room) GROUP BY code HAVING count(*) > 1;
INSERT INTO finding
SELECT 0, NULL, 'PanelLettersTwice', group_concat(panel, ',' ORDER BY panel)
FROM (SELECT DISTINCT panel, letters FROM panel_letters JOIN here ON here.id = panel) GROUP BY letters HAVING count(*) > 1;
INSERT INTO finding
SELECT 0, NULL, 'SpaceTwice', group_concat(rack, ',' ORDER BY rack)
FROM (SELECT DISTINCT rack, space FROM rack_space JOIN here ON here.id = rack) GROUP BY space HAVING count(*) > 1;
INSERT INTO finding
SELECT 0, (SELECT outlet FROM c WHERE c.cable = j.cable), 'JoinedTwice', end || ' : ' || group_concat(loose, ',' ORDER BY loose)
FROM (SELECT DISTINCT loose, cable, end FROM loose_joined JOIN here ON here.id = loose WHERE end IS NOT NULL) j
GROUP BY end HAVING count(*) > 1;

-- What hangs at a rack unit of a rack that is in the job and is not said to be built without units. A
-- panel hangs in front, and takes a unit for each row of 24 unless somebody said otherwise.
CREATE TABLE hangs AS
SELECT 'panel ' || m.panel thing, 0 kind, m.panel id, r.rack, 'Front' face, u.unit low,
       u.unit + ifnull(h.units, (m.size + 23) / 24) - 1 high
FROM s_make m JOIN s_panel_rack r ON r.panel = m.panel JOIN s_unit u ON u.panel = m.panel
LEFT JOIN s_high h ON h.panel = m.panel
UNION ALL
SELECT 'device ' || d.device, 1, d.device, d.rack, d.face, d.unit, d.unit + d.height - 1
FROM s_device_mount d JOIN here ON here.id = d.device
UNION ALL
SELECT 'block ' || b.block, 2, b.block, b.rack, b.face, b.unit, b.unit + b.height - 1
FROM s_block_mount b JOIN here ON here.id = b.block LEFT JOIN s_block_standing s ON s.block = b.block
WHERE ifnull(s.cancelled, 0) = 0;
DELETE FROM hangs WHERE low IS NULL OR rack IS NULL OR rack NOT IN (SELECT id FROM here)
  OR rack IN (SELECT rack FROM s_build WHERE units IS NULL);
-- Each thing belongs with the first of all that it meets, step by step.
CREATE TABLE together AS
WITH RECURSIVE meets(thing, other) AS (
  SELECT thing, thing FROM hangs
  UNION
  SELECT m.thing, b.thing FROM meets m JOIN hangs a ON a.thing = m.other
  JOIN hangs b ON b.rack = a.rack AND b.face = a.face AND b.low <= a.high AND a.low <= b.high)
SELECT thing, min(other) first FROM meets GROUP BY thing;
INSERT INTO finding
SELECT 0, NULL, 'UnitsShared', h.rack || ' ' || h.face || ' : ' || group_concat(h.thing, ',' ORDER BY h.kind, h.id)
FROM hangs h JOIN together t ON t.thing = h.thing GROUP BY h.rack, h.face, t.first HAVING count(*) > 1;
INSERT INTO finding
SELECT 0, NULL, 'OutsideRack', h.rack || ' ' || h.thing FROM hangs h LEFT JOIN s_build b ON b.rack = h.rack
WHERE h.low < 1 OR h.high > b.units;

-- A conduit stands under every number that somebody gave it; one of those that share a number is wanted.
INSERT INTO finding
SELECT 0, NULL, 'ConduitNumberTwice', group_concat(conduit, ',' ORDER BY conduit)
FROM (SELECT DISTINCT n.conduit, n.number, ifnull(s.cancelled, 0) cancelled
      FROM conduit_number n LEFT JOIN s_conduit_standing s ON s.conduit = n.conduit)
GROUP BY number HAVING count(*) > 1 AND min(cancelled) = 0;

INSERT INTO finding
SELECT 0, CASE s.kind WHEN 'outlet' THEN s.owner WHEN 'cable' THEN c.outlet END, 'Disputed', s.thing || ' ' || s.field
FROM setting s LEFT JOIN c ON s.kind = 'cable' AND c.cable = s.owner
LEFT JOIN cable_jacket j ON s.field = 'Jacket' AND j.cable = s.owner AND j.ord = s.ord
WHERE s.field <> 'placement' AND (s.kind = 'job' OR s.owner IN (SELECT id FROM here))
  AND (s.pull IS NULL OR s.pull = c.pull)
GROUP BY s.kind, s.thing, s.field
HAVING count(DISTINCT CASE WHEN s.field = 'Cover' AND s.value LIKE '%Covering(Ok(%' THEN 'ok'
  WHEN s.field = 'Jacket' THEN (SELECT group_concat(DISTINCT k.cable ORDER BY k.cable) FROM cable_jacket k WHERE k.jacket = j.jacket)
  ELSE s.value END) > 1;

INSERT INTO finding
SELECT DISTINCT 0, c.outlet, 'MarksDiffer', c.cable FROM c JOIN mark m ON m.cable = c.cable AND m.pull = c.pull
LEFT JOIN s_lost l ON l.cable = m.cable AND l.pull = m.pull AND l.side = m.side
WHERE c.wanted AND m.code <> c.frozen AND (l.ord IS NULL OR l.ord < m.ord);
INSERT INTO finding SELECT 0, outlet, 'CodeMoved', cable FROM c WHERE wanted AND frozen <> label
  AND NOT EXISTS (SELECT 1 FROM kept_tag k WHERE k.cable = c.cable AND k.tag = c.frozen AND k.called = c.label);
INSERT INTO finding
SELECT 0, outlet, 'WorkOnWithdrawn', cable FROM c WHERE NOT here AND cable IN
  (SELECT cable FROM touched UNION SELECT cable FROM outcome UNION SELECT cable FROM test UNION
   SELECT cable FROM placement UNION SELECT cable FROM split UNION SELECT cable FROM mark UNION SELECT cable FROM lost UNION SELECT cable FROM footage)
  AND NOT (cancelled AND cable IN (SELECT cable FROM foreseen) AND NOT EXISTS (SELECT 1 FROM work w WHERE w.cable = c.cable
    AND NOT EXISTS (SELECT 1 FROM foreseen f WHERE f.cable = w.cable AND f.act = w.act)));
INSERT INTO finding
SELECT 0, outlet, 'WorkOnCancelled', cable FROM e WHERE here AND NOT wanted AND status = 'landed'
UNION
SELECT 0, c.outlet, 'WorkOnCancelled', c.cable FROM c JOIN work w ON w.cable = c.cable
WHERE c.here AND NOT c.wanted AND c.cable IN (SELECT cable FROM foreseen)
  AND NOT EXISTS (SELECT 1 FROM foreseen f WHERE f.cable = w.cable AND f.act = w.act);

INSERT INTO finding
SELECT DISTINCT 0, c.outlet, 'WorkAstray', c.cable FROM c JOIN work w ON w.cable = c.cable
WHERE c.here AND c.wanted AND w.pull <> c.pull
  AND (w.pull <> c.cable OR c.cable IN (SELECT cable FROM passed))
  AND NOT EXISTS (SELECT 1 FROM passed p WHERE p.cable = w.cable AND p.act = w.act);

INSERT INTO finding
SELECT 0, outlet, 'NoSuchPosition', end || ' ' || a.panel || '-' || number
FROM (SELECT end, outlet, panel, number FROM e WHERE wanted AND panel IS NOT NULL
      UNION SELECT p.cable || '.' || p.side || '.' || p.leg, c.outlet, p.panel, p.number
      FROM planned p JOIN c ON c.cable = p.cable WHERE c.wanted AND p.panel IS NOT NULL) a
LEFT JOIN s_make m ON m.panel = a.panel WHERE m.size IS NULL OR a.number > m.size;
INSERT INTO finding
SELECT DISTINCT 0, outlet, CASE state WHEN 'bad' THEN 'LandedOnBad' ELSE 'LandedOnReserved' END,
       end || ' ' || e.panel || '-' || e.number
FROM e JOIN s_kept k ON k.panel = e.panel AND k.number = e.number WHERE wanted AND state <> 'open';
INSERT INTO finding
SELECT DISTINCT 0, outlet, 'Misfit', end || ' ' || e.panel || '-' || e.number
FROM e JOIN s_make m ON m.panel = e.panel
WHERE wanted AND (kind = 'local' OR direct AND medium IS NOT NULL AND medium NOT LIKE 'own:%'
  AND NOT EXISTS (SELECT 1 FROM fits WHERE fits.medium = e.medium AND fits.connector = m.connector));
INSERT INTO finding
SELECT 0, outlet, 'PullTrouble', cable || ' ' || outcome FROM pulled WHERE outcome <> 'pulled';
-- Of each end the last mark, and whether the one before it is the same. 1000 ft are 304.8 m, so that
-- 305 m is the limit of both: 1000 ft pass it and 1001 ft do not.
CREATE TABLE last_read AS
SELECT cable, pull, side, value, unit, value IS prev AND unit IS prev_unit twice FROM (
  SELECT *, lag(value) OVER of_end prev, lag(unit) OVER of_end prev_unit,
         row_number() OVER (PARTITION BY cable, pull, side ORDER BY ord DESC) back
  FROM footage WINDOW of_end AS (PARTITION BY cable, pull, side ORDER BY ord)) WHERE back = 1;
INSERT INTO finding
SELECT 0, c.outlet, 'MarksDoubtful', c.cable FROM c
JOIN last_read near ON near.cable = c.cable AND near.pull = c.pull AND near.side = 0
JOIN last_read far ON far.cable = c.cable AND far.pull = c.pull AND far.side = 1
WHERE c.wanted AND NOT near.twice AND NOT far.twice
  AND (near.unit <> far.unit OR near.value = far.value
       OR abs(near.value - far.value) > CASE near.unit WHEN 'ft' THEN 1000 ELSE 305 END);
INSERT INTO finding SELECT 0, outlet, 'TestFailed', cable FROM tested WHERE passed = 0;

-- Gate 1: before the pull.
INSERT INTO finding SELECT 1, outlet, 'CableWithoutCode', cable FROM w WHERE frozen IS NULL AND label IS NULL
  AND ifnull(outlet, 0) NOT IN (SELECT outlet FROM o WHERE wanted AND (room IS NULL OR room NOT IN (SELECT id FROM here)));
INSERT INTO finding SELECT 1, outlet, 'CableWithoutMedium', cable FROM w WHERE medium IS NULL;
-- A home run for which no rack is chosen goes to that of the panel where its far end is landed, else
-- of the panel that it is meant for, else to the only rack of the job.
CREATE TABLE home AS
SELECT cable, coalesce(rack,
    (SELECT r.rack FROM s_placement p JOIN s_panel_rack r ON r.panel = p.panel
     WHERE p.cable = w.cable AND p.pull = w.pull AND p.side = 1 AND p.status = 'landed' ORDER BY p.leg LIMIT 1),
    (SELECT r.rack FROM s_planned p JOIN s_panel_rack r ON r.panel = p.panel
     WHERE p.cable = w.cable AND p.side = 1 ORDER BY p.leg LIMIT 1),
    (SELECT max(id) FROM here WHERE kind = 'rack' HAVING count(*) = 1)) rack
FROM w WHERE kind = 'home';
CREATE UNIQUE INDEX home_cable ON home (cable);
INSERT INTO finding
SELECT 1, outlet, 'NoRackChosen', cable FROM w
WHERE kind = 'home' AND ifnull((SELECT rack FROM home WHERE home.cable = w.cable), 0) NOT IN (SELECT id FROM here)
      AND NOT ifnull((SELECT out_of_use FROM whole WHERE whole.cable = w.cable AND whole.side = 1), 0)
   OR kind = 'tie' AND (near NOT IN (SELECT id FROM here) OR far NOT IN (SELECT id FROM here));
INSERT INTO finding
SELECT 1, outlet, 'OutletWithoutCables', outlet FROM o WHERE wanted AND outlet NOT IN
  (SELECT n.outlet FROM cable_name n JOIN c ON c.cable = n.cable WHERE c.wanted AND n.outlet IS NOT NULL
   UNION SELECT l.outlet FROM cable_leaves l JOIN c ON c.cable = l.cable WHERE c.wanted AND l.outlet IS NOT NULL);
INSERT INTO finding
SELECT 1, outlet, 'OutletWithoutRoom', outlet FROM o WHERE wanted AND (room IS NULL OR room NOT IN (SELECT id FROM here));
INSERT INTO finding
SELECT 1, NULL, 'RoomWithoutCode', id FROM here WHERE kind = 'room' AND id NOT IN (SELECT room FROM room_code)
  AND id IN (SELECT n.room FROM outlet_number n JOIN o ON o.outlet = n.outlet WHERE o.wanted);
INSERT INTO finding
SELECT 1, max(jack_of), 'PlannedTwice', place || ' : ' || group_concat(end, ',' ORDER BY end)
FROM (SELECT DISTINCT p.place, p.cable || '.' || p.side || '.' || p.leg end,
             CASE WHEN p.place LIKE 'jack %' THEN CAST(substr(p.place, 6) AS INTEGER) END jack_of
      FROM planned p JOIN c ON c.cable = p.cable LEFT JOIN s_make m ON m.panel = p.panel
      WHERE c.wanted AND p.place IS NOT NULL
        AND (p.panel IS NULL OR m.connector IN (SELECT connector FROM takes_one)))
GROUP BY place HAVING count(*) > 1;
INSERT INTO finding
SELECT 1, outlet, CASE kind WHEN 'local' THEN 'LocalRunOpen' ELSE 'OutletGone' END, cable FROM open_course;

-- Gate 2: before the board.
INSERT INTO finding
SELECT 2, pulled.outlet, 'NotPulled', pulled.cable FROM pulled JOIN w ON w.cable = pulled.cable
WHERE outcome IS NULL AND NOT done;
-- The longest permanent link of category cable is 90 m, or 295 ft (ANSI/TIA-568, ISO/IEC 11801).
INSERT INTO finding
SELECT 2, w.outlet, 'TooLong', w.cable FROM w
JOIN last_read near ON near.cable = w.cable AND near.pull = w.pull AND near.side = 0
JOIN last_read far ON far.cable = w.cable AND far.pull = w.pull AND far.side = 1
LEFT JOIN s_test t ON t.cable = w.cable AND t.pull = w.pull
WHERE w.medium IN (SELECT medium FROM category) AND near.unit = far.unit
  AND abs(near.value - far.value) > CASE near.unit WHEN 'ft' THEN 295 ELSE 90 END
  AND (near.twice OR far.twice OR abs(near.value - far.value) <= CASE near.unit WHEN 'ft' THEN 1000 ELSE 305 END)
  AND NOT ifnull(t.certified, 0);
INSERT INTO finding SELECT 2, outlet, 'NotMarked', cable || '.' || side || '.0' FROM marked
WHERE NOT marked AND cable IN (SELECT cable FROM w);
INSERT INTO finding
SELECT 2, NULL, 'LooseEndOpen', id FROM here LEFT JOIN s_joined j ON j.loose = id
WHERE kind = 'loose' AND (j.cable IS NULL OR j.cable NOT IN (SELECT id FROM here));

INSERT INTO finding
SELECT 0, NULL, 'LooseNumberTwice', group_concat(loose, ',' ORDER BY loose)
FROM s_loose JOIN finding ON finding.kind = 'LooseEndOpen' AND finding.args = s_loose.loose
GROUP BY number HAVING count(*) > 1;

-- Gates 3 and 4: before trim and before handover.
INSERT INTO finding
SELECT CASE WHEN kind = 'tie' OR kind = 'home' AND side = 1 THEN 3 ELSE 4 END, outlet, 'NotLanded', end
FROM part WHERE (status IS NULL OR status = 'lifted') AND cable IN (SELECT cable FROM w);
INSERT INTO finding
SELECT 3, outlet, 'NotVerified', cable FROM tested WHERE passed IS NULL AND cable IN (SELECT cable FROM w)
  AND cable NOT IN (SELECT cable FROM whole WHERE out_of_use);
INSERT INTO finding
SELECT 4, outlet, CASE status WHEN 'spare' THEN 'SpareWithoutReason' ELSE 'DeadWithoutReason' END, end
FROM part WHERE status IN ('spare', 'dead') AND trim(reason) = '' AND cable IN (SELECT cable FROM w);
