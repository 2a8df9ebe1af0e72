use super::*;

#[test]
fn every_quantity_has_a_column() {
    for quantity in [Kind::Angle, Kind::Length, Kind::Torque, Kind::Temperature, Kind::Force] {
        assert!(COLUMNS.iter().any(|column| column.head == value_column(quantity)), "{quantity:?}");
    }
}
