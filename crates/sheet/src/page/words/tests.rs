use super::*;

#[test]
fn entries_and_values_read_as_people_write_them() {
    assert_eq!(entries([5, 3, 4, 9, 10]), "#3 to #5, #9, #10");
    assert_eq!(entries([1, 3, 5, 7]), "#1 to #7, in 4 parts");
    assert_eq!(spaced("-0.36 ±0.07°, limit ±0.25°"), "-0.36 ± 0.07°, limit ±0.25°");
    assert_eq!(spaced("-0.36 ± 0.07°"), "-0.36 ± 0.07°");
}
