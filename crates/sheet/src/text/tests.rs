use super::*;

#[test]
fn figures_in_cells_have_equal_width_and_the_minus_is_a_minus_sign() {
    let set = Typesetter::new().unwrap();
    for face in [Face::Medium, Face::SemiBold] {
        for digit in "0123456789".chars() {
            let wide = set.width_in_cells(face, 10.0, &digit.to_string());
            assert!((wide - 5.35).abs() < 1e-5, "{digit}: {wide}");
        }
        let hyphen = set.width(face, 10.0, "-a") - set.width(face, 10.0, "a");
        assert!(set.width(face, 10.0, "-1") - set.width(face, 10.0, "1") > hyphen);
    }
}

#[test]
fn letters_are_not_joined() {
    let set = Typesetter::new().unwrap();
    for face in [Face::Medium, Face::SemiBold] {
        for text in ["2ff4", "profile", "office"] {
            let shaped = set.shape(face, Figures::AsDrawn, text);
            assert_eq!(shaped.segments[0].glyphs.len(), text.len(), "{text}");
        }
    }
}

#[test]
fn characters_that_a_face_lacks_are_set_in_the_fallback() {
    let set = Typesetter::new().unwrap();
    let georgian = set.shape(Face::SemiBold, Figures::AsDrawn, "ქარი");
    assert_eq!(georgian.segments.len(), 1);
    assert_eq!(georgian.segments[0].face, Face::Rest);
    assert!(georgian.segments[0].glyphs.iter().all(|g| g.id != 0));
    assert_eq!(set.shape(Face::SemiBold, Figures::AsDrawn, "wing").segments[0].face, Face::SemiBold);
}

#[test]
fn a_name_written_from_right_to_left_keeps_its_place_in_the_line() {
    let set = Typesetter::new().unwrap();
    let mixed = set.shape(Face::Medium, Figures::AsDrawn, "by ابجد, 4");
    let read: Vec<&str> = mixed.segments.iter().map(|s| s.text.as_str()).collect();
    assert_eq!(read.concat().chars().count(), 10);
    assert_eq!(read.first(), Some(&"by "));
    assert!(mixed.segments.iter().all(|s| s.glyphs.iter().all(|g| g.id != 0)));
}

/// The program's own words: every character in this crate's sources.
#[test]
fn the_two_weights_have_every_character_of_the_programs_own_words() {
    let set = Typesetter::new().unwrap();
    let own =
        "−±°·²“”’…×– abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789#%&()*+,-./:;<=>?[]_`|'\"";
    for c in own.chars() {
        assert!(set.has(Face::Medium, c) && set.has(Face::SemiBold, c), "{c:?}");
    }
}
