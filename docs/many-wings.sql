-- The figures of `jigtrue series`, from a folder that `jigtrue export LOG... --into FOLDER` wrote.
-- It reads two tables of that folder, `wings` and `figures`, and runs as it is in any engine with standard window functions.
-- 1.128 is the constant of the individuals chart (NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2).
WITH place AS (
  SELECT wing_kind, log, row_number() OVER (PARTITION BY wing_kind ORDER BY finished, log) - 1 AS nth
  FROM wings
  WHERE counted
),
walk AS (
  SELECT f.wing_kind, f.kind, f.about, f.value, p.nth,
         abs(f.value - lag(f.value) OVER (PARTITION BY f.wing_kind, f.kind, f.about ORDER BY p.nth)) AS moving_range
  FROM figures f
  JOIN place p ON p.wing_kind = f.wing_kind AND p.log = f.log
)
SELECT wing_kind, kind, about,
       count(*) AS n,
       avg(value) AS mean,
       stddev_samp(value) AS sd,
       avg(value) - 3 * avg(moving_range) / 1.128 AS lower_control,
       avg(value) + 3 * avg(moving_range) / 1.128 AS upper_control,
       regr_slope(value, nth) AS per_wing
FROM walk
GROUP BY wing_kind, kind, about
ORDER BY wing_kind, kind, about
