//! The two wirings of the eight-position jack against the published table.

use bothends::domain::work::Pinout;

/// ANSI/TIA-568, T568A and T568B, as three independent published tables give it: pin, then pair and
/// colour in either wiring.
const TABLE: &str = "\
1  3 white/green   2 white/orange
2  3 green         2 orange
3  2 white/orange  3 white/green
4  1 blue          1 blue
5  1 white/blue    1 white/blue
6  2 orange        3 green
7  4 white/brown   4 white/brown
8  4 brown         4 brown";

#[test]
fn every_pin_has_the_conductor_of_the_published_table() {
    let ours: Vec<String> = (0..8)
        .map(|at| {
            let [a, b] = Pinout::BOTH.map(|pinout| {
                let pin = pinout.pins()[at];
                assert_eq!(usize::from(pin.number), at + 1);
                format!("{} {}", pin.colour.pair(), pin.words())
            });
            format!("{}  {a:<16}{b}", at + 1)
        })
        .collect();
    assert_eq!(ours.join("\n"), TABLE);
}

#[test]
fn the_wirings_differ_on_pins_1_2_3_and_6_only() {
    // ANSI/TIA-568: pairs 2 and 3 change places.
    let [a, b] = Pinout::BOTH.map(Pinout::pins);
    let differ: Vec<u8> = a
        .iter()
        .zip(&b)
        .filter(|(a, b)| a != b)
        .map(|(a, _)| a.number)
        .collect();
    assert_eq!(differ, [1, 2, 3, 6]);
    for (pinout, pairs) in [
        (Pinout::A, [[4, 5], [3, 6], [1, 2], [7, 8]]),
        (Pinout::B, [[4, 5], [1, 2], [3, 6], [7, 8]]),
    ] {
        for (pair, pins) in (1..).zip(pairs) {
            let of_pair = pinout.pins().into_iter();
            let of_pair = of_pair.filter(|pin| pin.colour.pair() == pair);
            assert_eq!(of_pair.map(|pin| pin.number).collect::<Vec<_>>(), pins);
        }
    }
}
