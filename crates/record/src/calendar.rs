//! Times as paper and screens write them, from `2031-06-09 16:20 +02:00` or ISO 8601.

const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/// The parts that are shown.
struct Parts<'a> {
    year: &'a str,
    day: String,
    minute: &'a str,
    zone: &'a str,
}

fn parts(when: &str) -> Option<Parts<'_>> {
    let month: usize = when.get(5..7)?.parse().ok()?;
    let day: u8 = when.get(8..10)?.parse().ok()?;
    let month = MONTHS.get(month.checked_sub(1)?)?;
    let zone = when.get(16..).unwrap_or("").trim();
    let zone = if zone.contains('Z') { "UTC" } else { zone };
    Some(Parts {
        year: when.get(..4)?,
        day: format!("{day} {month}"),
        minute: when.get(11..16).unwrap_or(""),
        zone,
    })
}

/// Its year, `2031`; `None` if it is not a time.
#[must_use]
pub fn year(when: &str) -> &str {
    parts(when).map_or("", |p| p.year)
}

/// The zone of a time: `+02:00`, `UTC`.
#[must_use]
pub fn zone(when: &str) -> &str {
    parts(when).map_or("", |p| p.zone)
}

/// `8 Jun`, with the year if it is not the year of the sheet.
#[must_use]
pub fn day(when: &str, year: &str) -> String {
    match parts(when) {
        Some(p) if p.year == year => p.day,
        Some(p) => format!("{} {}", p.day, p.year),
        None => when.to_owned(),
    }
}

/// `8 Jun 10:53`, with the year if it is not the year of the sheet.
#[must_use]
pub fn minute(when: &str, year: &str) -> String {
    match parts(when) {
        Some(p) => format!("{} {}", day(when, year), p.minute).trim_end().to_owned(),
        None => when.to_owned(),
    }
}

/// `8 Jun 2031 10:53`.
#[must_use]
pub fn full(when: &str) -> String {
    minute(when, "")
}

/// The time of day: `10:53`.
#[must_use]
pub fn clock(when: &str) -> &str {
    parts(when).map_or(when, |p| p.minute)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_read_as_people_write_them() {
        assert_eq!(minute("2031-06-08 10:53 +02:00", "2031"), "8 Jun 10:53");
        assert_eq!(minute("2030-12-31T23:59:00Z", "2031"), "31 Dec 2030 23:59");
        assert_eq!(full("2031-06-08 10:53 +02:00"), "8 Jun 2031 10:53");
        assert_eq!(zone("2031-06-08 10:53 UTC"), "UTC");
        assert_eq!(clock("2031-06-08 10:53 +02:00"), "10:53");
        assert_eq!((full("no time").as_str(), clock("no time")), ("no time", "no time"));
    }
}
