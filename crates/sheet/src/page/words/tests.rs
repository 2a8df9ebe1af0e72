use super::*;

#[test]
fn dates_and_entries_read_as_people_write_them() {
    assert_eq!(minute("2031-06-08 10:53 +02:00", "2031"), "8 Jun 10:53");
    assert_eq!(minute("2030-12-31T23:59:00Z", "2031"), "31 Dec 2030 23:59");
    assert_eq!(zone("2031-06-08 10:53 UTC"), "UTC");
    assert_eq!(entries([5, 3, 4, 9, 10]), "#3 to #5, #9, #10");
    assert_eq!(entries([1, 3, 5, 7]), "#1 to #7, in 4 parts");
    assert_eq!(spaced("-0.36 ±0.07°, limit ±0.25°"), "-0.36 ± 0.07°, limit ±0.25°");
    assert_eq!(spaced("-0.36 ± 0.07°"), "-0.36 ± 0.07°");
}
