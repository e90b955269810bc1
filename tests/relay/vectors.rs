//! Base45 against the examples of RFC 9285, sections 4.3 and 4.4, as the series writes it.

/// Text and its Base45, from RFC 9285, section 4.3.
const EXAMPLES: [(&str, &str); 3] = [
    ("AB", "BB8"),
    ("Hello!!", "%69 VD92EX0"),
    ("base-45", "UJCLQE7W581"),
];

#[test]
fn base45_is_that_of_the_rfc() {
    for (text, written) in EXAMPLES {
        assert_eq!(base45::encode(text), written);
        assert_eq!(base45::decode(written).as_deref(), Ok(text.as_bytes()));
    }
    // RFC 9285, section 4.4.
    assert_eq!(base45::decode("QED8WEX0").as_deref(), Ok(&b"ietf!"[..]));
}

#[test]
fn what_is_more_than_two_bytes_is_refused() {
    // RFC 9285, section 6, from memory: FGW stands for 65535, GGW for 65536.
    assert_eq!(base45::decode("FGW").as_deref(), Ok(&[0xFF, 0xFF][..]));
    for wrong in ["GGW", ":::", "A", "ab8", "B_8"] {
        assert!(base45::decode(wrong).is_err(), "{wrong}");
    }
}
