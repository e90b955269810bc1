//! Sentences that belong to no single screen.

/// How an end at the wall stands.
pub(super) mod ends;

use crate::app::Caution;

/// The usual cautions of a phase, and hints. Common practice, no source; local codes and licensed practice
/// go before anything here.
pub(super) fn cautions(of: Caution) -> &'static [&'static str] {
    match of {
        Caution::Wall => &[
            "Keep away from power cables, and cross them at right angles. Stop and ask when you do not know what a cable is.",
            "Before you drill, look at the other side: pipes, power, ducts.",
            "Set the ladder on firm ground; never reach out from it with a drill in your hand.",
            "Eye protection for drilling and overhead work.",
            "Local codes and the licensed trades on site decide what may be done here.",
        ],
        Caution::Rack => &[
            "Cut away from your hand; cap the blade when you lay it down.",
            "Work on power inside the rack is for those who are licensed for it.",
            "Never look into a fibre or its port.",
            "Local codes and the licensed trades on site decide what may be done here.",
        ],
        Caution::FirstSteps => &[
            "What you note has an “Undo” in the bar above the actions.",
            "Once there are outlets, “Next outlet” leads to the first one that is not marked.",
        ],
        Caution::Scan => &[
            "A scan says that a tag was seen. Only toner, wire map, remotes or a certifier verify the cable.",
        ],
        Caution::Punch => &["Each line has its ways out. What is settled leaves the list."],
    }
}
