//! The house in tables: units, floors, rooms, the job's own outlet types, and the outlets.

pub(super) const UNITS: &[&str] = &[
    "Common parts",
    "Flat A",
    "Flat B",
    "Flat C",
    "Flat D",
    "Pottery studio",
];

/// Floors from below; a mill's stone floor carries the stones and its bin floor the grain.
pub(super) const FLOORS: &[&str] = &[
    "Basement",
    "Ground floor",
    "Stone floor",
    "Bin floor",
    "Roof",
];

/// Rooms in walking order: code, name, unit and floor by their place in the lists above.
pub(super) const ROOMS: &[(&str, &str, usize, usize)] = &[
    ("WHEEL", "Wheel room", 0, 0),
    ("LOBBY", "Entrance lobby", 0, 1),
    ("STAIR", "Staircase", 0, 2),
    ("YARD", "Yard", 0, 1),
    ("ROOF", "Roof space", 0, 4),
    ("AHAL", "Flat A hall", 1, 1),
    ("AKIT", "Flat A kitchen", 1, 1),
    ("ALIV", "Flat A living room", 1, 1),
    ("ABED", "Flat A bedroom", 1, 1),
    ("ASTU", "Flat A study", 1, 1),
    ("ABATH", "Flat A bathroom", 1, 1),
    ("BHAL", "Flat B hall", 2, 2),
    ("BKIT", "Flat B kitchen", 2, 2),
    ("BLIV", "Flat B living room", 2, 2),
    ("BBED", "Flat B bedroom", 2, 2),
    ("CHAL", "Flat C hall", 3, 2),
    ("CKIT", "Flat C kitchen", 3, 2),
    ("CLIV", "Flat C living room", 3, 2),
    ("CBED", "Flat C bedroom", 3, 2),
    ("DHAL", "Flat D hall", 4, 3),
    ("DKIT", "Flat D kitchen", 4, 3),
    ("DLIV", "Flat D living room", 4, 3),
    ("DBED", "Flat D bedroom", 4, 3),
    ("STORE", "Clay store", 5, 1),
    ("THROW", "Throwing room", 5, 1),
    ("GLAZE", "Glaze room", 5, 1),
    ("KILN", "Kiln room", 5, 1),
    ("SHOP", "Gallery shop", 5, 1),
];

/// The job's own outlet types: name, and cables as letter, medium key and purpose.
pub(super) type OwnType = (&'static str, &'static [(char, &'static str, &'static str)]);
pub(super) const OWN_TYPES: &[OwnType] = &[
    (
        "Old camera",
        &[
            ('A', "rg59", "Picture"),
            ('B', "control-18-2", "Camera power"),
        ],
    ),
    ("Antenna", &[('D', "burial+rg6", "Antenna downlead")]),
    (
        "Antenna feed",
        &[('D', "rg6", "Antenna, from the arrester")],
    ),
    (
        "Single speaker",
        &[('-', "speaker-16-2", "Ceiling speaker")],
    ),
    (
        "Gallery speakers",
        &[
            ('-', "speaker-12-2", "Left"),
            ('-', "speaker-12-2", "Right"),
        ],
    ),
    (
        "Loft speakers",
        &[
            ('-', "speaker-10-2", "Left"),
            ('-', "speaker-10-2", "Right"),
        ],
    ),
    (
        "Kiln",
        &[
            ('A', "cat6-utp", "Kiln controller"),
            ('-', "own:Thermocouple type K", "Kiln temperature"),
        ],
    ),
];

/// Outlets, one a line: room, type and purpose; where somebody has measured, also wall, distance
/// in millimetres and what it is measured from.
pub(super) const COMMON: &str = "
WHEEL | demarcation | Incoming services | street wall | 400 | duct
WHEEL | sources | Shared aerial and door video | rack wall | 300 | rack
WHEEL | Antenna feed | Antenna arrester | street wall | 900 | duct
LOBBY | door-station | Front door station and strike | street wall | 250 | door jamb
LOBBY | camera | Lobby camera | ceiling | 600 | stair corner
LOBBY | touch-panel | Notice panel | post box wall | 450 | corner
LOBBY | access-point | Lobby access point | ceiling | 1500 | stair corner
LOBBY | contact | Front door contact | street wall | 0 | door head
LOBBY | motion | Lobby motion | stair wall | 120 | corner
STAIR | access-point | Landing access point | ceiling | 1100 | newel
STAIR | camera | Landing camera | ceiling | 300 | north corner
STAIR | motion | Landing motion | north wall | 120 | corner
YARD | camera | Yard camera | north gable | 900 | gutter pipe
YARD | landscape | Mill pond speakers | pond wall | 2400 | sluice post
YARD | gate | Gate station and opener | gate pier | 0 | pier
YARD | Old camera | Loading bay camera | loading bay | 350 | door jamb
ROOF | Antenna | Antenna mast | chimney | 0 | mast foot";

pub(super) const FLAT_A: &str = "
AHAL | touch-panel | Hall touch panel | lobby wall | 300 | door jamb
AHAL | keypad | Hall keypad | lobby wall | 180 | door jamb
AHAL | motion | Hall motion | end wall | 120 | corner
AHAL | contact | Flat door contact | lobby wall | 0 | door head
AKIT | tv | Breakfast TV | pantry wall | 700 | corner
AKIT | data | Desk nook | window wall | 350 | window jamb
AKIT | volume-control | Kitchen volume | hall wall | 200 | door jamb
AKIT | speaker-pair | Kitchen ceiling speakers | ceiling | 1200 | window wall
AKIT | keypad | Kitchen keypad | hall wall | 320 | door jamb
ALIV | tv | Main TV | chimney wall | 1150 | chimney breast
ALIV | surround | Surround speakers | chimney wall | 300 | chimney breast
ALIV | subwoofer | Subwoofer | chimney wall | 400 | corner
ALIV | data | Window seat | south wall | 600 | window jamb
ALIV | access-point | Living room access point | ceiling | 2100 | south wall
ALIV | shade | South shade | south wall | 80 | window head
ALIV | shade | West shade | west wall | 80 | window head
ALIV | thermostat | Living room thermostat | hall wall | 250 | door jamb
ABED | tv | Bedroom TV | east wall | 1600 | corner
ABED | data | Bedside left | west wall | 500 | corner
ABED | data | Bedside right | west wall | 2300 | corner
ABED | volume-control | Bedroom volume | hall wall | 200 | door jamb
ABED | speaker-pair | Bedroom ceiling speakers | ceiling | 1400 | west wall
ABED | shade | Bedroom shade | south wall | 80 | window head
ASTU | data | Desk | north wall | 900 | corner
ASTU | data | Printer | east wall | 400 | corner
ASTU | access-point | Study access point | ceiling | 1000 | north wall
ABATH | Single speaker | Bathroom speaker | ceiling | 800 | door jamb";

pub(super) const OTHER_FLATS: &str = "
BHAL | keypad | Hall keypad | landing wall | 180 | door jamb
BHAL | motion | Hall motion | end wall | 120 | corner
BHAL | contact | Flat door contact | landing wall | 0 | door head
BKIT | data | Worktop end | window wall | 350 | window jamb
BKIT | volume-control | Kitchen volume | hall wall | 200 | door jamb
BKIT | speaker-pair | Kitchen ceiling speakers | ceiling | 1100 | window wall
BKIT | thermostat | Kitchen thermostat | hall wall | 330 | door jamb
BLIV | tv | Main TV | river wall | 1200 | beam post
BLIV | data | Window seat | river wall | 500 | window jamb
BLIV | access-point | Living room access point | ceiling | 1900 | river wall
BLIV | shade | River shade | river wall | 80 | window head
BLIV | surround | Surround speakers | river wall | 400 | beam post
BBED | tv | Bedroom TV | north wall | 1500 | corner
BBED | data | Bedside | south wall | 500 | corner
BBED | shade | Bedroom shade | river wall | 80 | window head
CHAL | keypad | Hall keypad | landing wall | 180 | door jamb
CHAL | motion | Hall motion | end wall | 120 | corner
CHAL | contact | Flat door contact | landing wall | 0 | door head
CKIT | data | Worktop end | yard wall | 350 | window jamb
CKIT | volume-control | Kitchen volume | hall wall | 200 | door jamb
CKIT | speaker-pair | Balcony speakers | yard wall | 300 | balcony door
CLIV | tv | Main TV
CLIV | data | Reading corner
CLIV | access-point | Living room access point
CLIV | projector | Projector and screen
CBED | tv | Bedroom TV
CBED | data | Bedside
CBED | thermostat | Bedroom thermostat
DHAL | keypad | Hall keypad
DHAL | motion | Hall motion
DHAL | contact | Flat door contact
DKIT | data | Worktop end
DKIT | keypad | Kitchen keypad
DLIV | tv | Main TV
DLIV | data | Desk under the hoist
DLIV | access-point | Living room access point
DLIV | thermostat | Living room thermostat
DLIV | Loft speakers | Speakers in the ridge
DBED | tv | Bedroom TV
DBED | data | Bedside";

pub(super) const STUDIO: &str = "
STORE | data | Rack bench | rack wall | 300 | rack
THROW | data | Potter's desk | yard wall | 600 | window jamb
THROW | speaker-pair | Throwing room speakers | ceiling | 1500 | yard wall
THROW | access-point | Throwing room access point | ceiling | 2000 | yard wall
THROW | thermostat | Throwing room thermostat | store wall | 250 | door jamb
THROW | camera | Wheel camera for lessons | ceiling | 900 | yard wall
GLAZE | data | Glaze scale | store wall | 800 | corner
GLAZE | shade | Skylight shade | ceiling | 80 | skylight frame
KILN | Kiln | Kiln | outer wall | 1100 | corner
KILN | contact | Kiln room door | throwing room wall | 0 | door head
SHOP | tv | Window screen | street wall | 700 | shop window
SHOP | data | Till | counter | 400 | counter end
SHOP | projector | Projector and screen | ceiling | 2600 | street wall
SHOP | Gallery speakers | Gallery speakers | side wall | 500 | corner
SHOP | contact | Shop door | street wall | 0 | door head
SHOP | motion | Shop motion | side wall | 120 | corner
SHOP | keypad | Shop keypad | counter | 150 | door jamb
SHOP | volume-control | Shop volume | counter | 260 | door jamb
SHOP | speaker-pair | Counter speakers | ceiling | 900 | counter end
SHOP | subwoofer | Gallery subwoofer | side wall | 350 | corner";
