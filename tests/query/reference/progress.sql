-- The ends that come out at wanted outlets, with the room where that is in the job. A near end
-- whose jack was planned at another outlet comes out there.
CREATE TABLE wall_end AS
SELECT c.cable, 0 side, CASE WHEN o.room IN (SELECT id FROM here) THEN o.room END room
FROM c LEFT JOIN (SELECT cable, place, max(ord) FROM planned WHERE side = 0 AND leg = 0 GROUP BY cable) p ON p.cable = c.cable
JOIN o ON o.outlet = CASE WHEN p.place LIKE 'jack %' THEN CAST(substr(p.place, 6) AS INTEGER) ELSE c.outlet END
WHERE c.wanted AND c.kind <> 'tie' AND o.wanted
UNION ALL
SELECT c.cable, 1, CASE WHEN o.room IN (SELECT id FROM here) THEN o.room END
FROM c JOIN o ON o.outlet = c.far_outlet WHERE c.wanted AND c.kind = 'local' AND o.wanted;
CREATE INDEX wall_end_cable ON wall_end (cable, side);

-- Progress by room, and by the change order of a cable or else of its outlet. Each scope is a list of ends that are meant, each with whether it is at a wall.
CREATE TABLE scope AS
WITH counted AS (SELECT cable, kind FROM c WHERE wanted AND (kind = 'tie' OR cable IN (SELECT cable FROM wall_end))),
sides AS (SELECT counted.cable, s.side, e.room, e.cable IS NOT NULL wall,
                 counted.kind = 'tie' OR counted.kind = 'home' AND s.side = 1 rack
          FROM counted JOIN (SELECT 0 side UNION ALL SELECT 1) s
          LEFT JOIN wall_end e ON e.cable = counted.cable AND e.side = s.side),
homeless AS (SELECT cable FROM sides GROUP BY cable HAVING count(room) = 0)
SELECT 'whole' scope, sides.*, 1 meant FROM sides
UNION ALL SELECT 'walls', sides.*, room IS NOT NULL FROM sides WHERE cable NOT IN (SELECT cable FROM homeless)
UNION ALL SELECT '-', sides.*, 1 FROM sides WHERE cable IN (SELECT cable FROM homeless)
UNION ALL SELECT 'order ' || coalesce(own.number, its.number, ''), sides.*, 1
FROM sides JOIN c ON c.cable = sides.cable
LEFT JOIN s_corder own ON own.cable = sides.cable LEFT JOIN s_oorder its ON its.outlet = c.outlet
UNION ALL SELECT r.room, sides.*, sides.room IS r.room FROM sides
JOIN (SELECT DISTINCT cable, room FROM wall_end WHERE room IS NOT NULL) r ON r.cable = sides.cable;
CREATE TABLE progress AS
SELECT scope.scope, scope.cable, min(marked OR NOT meant) marked,
       CASE WHEN max(meant AND NOT rack) THEN min(settled OR NOT (meant AND NOT rack)) ELSE min(settled) END at_wall,
       min(settled OR NOT rack) at_rack,
       max(out_of_use) out_of_use
FROM scope JOIN marked m ON m.cable = scope.cable AND m.side = scope.side
JOIN whole ON whole.cable = scope.cable AND whole.side = scope.side
GROUP BY scope.scope, scope.cable;
CREATE TABLE tally AS
SELECT scope || ' ' || count(*) || ' ' || sum(p.done) || ' ' || sum(marked) || ' ' ||
       sum(at_wall) || ' ' || sum(at_rack) || ' ' || sum(ifnull(t.passed, out_of_use)) line
FROM progress JOIN pulled p ON p.cable = progress.cable JOIN tested t ON t.cable = progress.cable
GROUP BY scope;
