//! What one phone takes out of the job while another one works on it: a conduit, a piece of gear in a rack, a picture,
//! a device. Both phones ask, alike, and each way out settles it for both.

use bothends::command::{Laid, Want};
use bothends::domain::ids::DeviceId;
use bothends::domain::mount::{BlockKind, Mount, Mountable, Units};
use bothends::domain::picture::{Digest, Shows};
use bothends::domain::place::{ConduitEnd, Face, Place};
use bothends::domain::work::Lying;
use bothends::query::What;
use bothends::query::deeds::deeds;

use super::asked::{asked_alike, takes};
use crate::mill::Mill;

fn disputed(what: &What) -> bool {
    matches!(what, What::Disputed { .. })
}

/// Two outlets, a conduit, a shelf and a device that hang in the rack, and a picture.
fn mill() -> Mill {
    let mut mill = Mill::new();
    mill.outlets("KIT", "camera", 2);
    mill.conduit("the attic", &["KIT1-A"]);
    let mount = at(&mill, 5);
    let shows = Shows::Outlet(mill.outlet_id("KIT", 1));
    for want in [
        Want::AddBlock {
            kind: BlockKind::Shelf,
            name: "Amplifier shelf".to_owned(),
            mount,
        },
        Want::AddDevice {
            name: "Router".to_owned(),
            room: None,
        },
        Want::AddPicture {
            digest: Digest([7; 32]),
            shows,
        },
    ] {
        mill.does(&want);
    }
    let (what, mount) = (Mountable::Device(device(&mill)), at(&mill, 9));
    mill.does(&Want::Hang { what, mount });
    mill
}

fn at(mill: &Mill, unit: u8) -> Mount {
    Mount {
        rack: mill.rack_id("1A"),
        unit: Some(unit),
        height: Units::new(1).expect("a height"),
        face: Face::Front,
    }
}

fn device(mill: &Mill) -> DeviceId {
    mill.registry().devices.iter().next().expect("a device").0
}

/// What one phone takes away, and what the other one does with it.
fn pairs(mill: &Mill) -> Vec<(Want, Want)> {
    let of = mill.registry();
    let conduit = of.conduits.iter().next().expect("a conduit").0;
    let block = of.blocks.iter().next().expect("a shelf").0;
    let picture = of.pictures.iter().next().expect("a picture").0;
    let device = device(mill);
    let reason = "crushed".to_owned();
    let cancels = Want::CancelConduit {
        conduit,
        reason: reason.clone(),
    };
    let laid = Laid {
        ends: ["the attic", "the cellar"].map(|at| ConduitEnd::Words(at.to_owned())),
        size: "32 mm".to_owned(),
        note: String::new(),
    };
    let number = of.conduits.get(conduit).and_then(|row| row.number.get());
    let out = |what| Want::TakeOut { what };
    let away = Want::DropPicture { picture, reason };
    vec![
        (
            cancels.clone(),
            Want::PassConduit {
                cable: mill.cable("KIT2-A"),
                conduit,
                lying: Lying::In,
            },
        ),
        (
            cancels.clone(),
            Want::LayConduit {
                conduit: Some(conduit),
                number: number.copied(),
                laid,
            },
        ),
        (
            cancels,
            Want::StringConduit {
                conduit,
                lying: Lying::In,
            },
        ),
        (
            out(Mountable::Block(block)),
            Want::Hang {
                what: Mountable::Block(block),
                mount: at(mill, 12),
            },
        ),
        (
            out(Mountable::Block(block)),
            Want::RenameBlock {
                block,
                name: "Modem shelf".to_owned(),
                mount: None,
            },
        ),
        (
            away.clone(),
            Want::NotePicture {
                picture,
                note: "the stud left of it".to_owned(),
            },
        ),
        (
            away,
            Want::PointOut {
                picture,
                points: Vec::new(),
            },
        ),
        (
            out(Mountable::Device(device)),
            Want::Patch {
                position: mill.position("C03"),
                to: Some(Place::Device {
                    device,
                    port: "LAN 1".to_owned(),
                }),
            },
        ),
    ]
}

#[test]
fn whatever_is_taken_away_while_somebody_works_on_it_is_asked_about() {
    let mill = mill();
    for (away, work) in pairs(&mill) {
        for place in 0..2 {
            let (mut lead, mut tech) = (mill.phone(8), mill.phone(9));
            lead.does(&away);
            tech.does(&work);
            let asked = asked_alike(&mut lead, &mut tech, disputed);
            let [item] = &asked[..] else {
                panic!("{away:?} against {work:?}: {asked:?}");
            };
            let sides: Vec<&str> = item
                .detail
                .iter()
                .filter_map(|said| said.split(", by").next())
                .collect();
            assert!(
                matches!(sides[0].split(':').next(), Some("cancelled" | "in no rack")),
                "{sides:?}"
            );
            assert!(
                sides[1] == "wanted" || sides[1].starts_with("at unit 9"),
                "{sides:?}"
            );
            takes(&mut tech, item, &format!("Keep {}", sides[place]));
            assert!(asked_alike(&mut lead, &mut tech, disputed).is_empty());
        }
    }
}

#[test]
fn in_a_conduit_that_stays_cancelled_no_cable_lies() {
    let mill = mill();
    let (away, work) = pairs(&mill).swap_remove(0);
    for (way, lying) in [("Keep cancelled", 0), ("Keep wanted", 1)] {
        let (mut lead, mut tech) = (mill.phone(8), mill.phone(9));
        lead.does(&away);
        tech.does(&work);
        let asked = asked_alike(&mut lead, &mut tech, disputed);
        takes(&mut lead, &asked[0], way);
        tech.hears(&lead);
        let conduit = tech.registry().conduits.iter().next().expect("a conduit").0;
        assert_eq!(tech.registry().cables_in(conduit).len(), lying, "{way}");
    }
}

#[test]
fn what_was_known_is_not_asked_about() {
    let mill = mill();
    for (away, work) in pairs(&mill) {
        let (mut lead, mut tech) = (mill.phone(8), mill.phone(9));
        tech.does(&work);
        lead.hears(&tech);
        lead.does(&away);
        assert!(asked_alike(&mut lead, &mut tech, disputed).is_empty());
    }
}

#[test]
fn the_history_tells_of_the_work_alone() {
    let mill = mill();
    for (_, work) in pairs(&mill) {
        let mut tech = mill.phone(9);
        tech.does(&work);
        let words = deeds(&tech.journal).remove(0).words;
        assert!(
            !words.contains("wanted") && !words.contains("back in its rack"),
            "{words}"
        );
        assert!(!words.contains("Router: "), "{words}");
    }
}
