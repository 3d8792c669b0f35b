//! The words that keys may take.

use super::record::words;

words! {
    /// Which limits and tables apply.
    Region, "a region" {
        "us" => Us,
        "ca" => Ca,
        "gb" => Gb,
        "eu" => Eu,
        "au" => Au,
    }
}

impl Region {
    /// Wire sizes, likely units and tables of North America.
    pub fn is_north_american(self) -> bool {
        matches!(self, Self::Us | Self::Ca)
    }
}

words! {
    /// What kind of building the plan is for.
    Building, "a kind of building" {
        "one-family" => OneFamily,
        "two-family" => TwoFamily,
        "multi-family" => MultiFamily,
        "commercial" => Commercial,
    }
}

impl Building {
    /// One- and two-family dwellings have the lighter cable rules (NEC 725.154 and its kin).
    pub fn is_small_dwelling(self) -> bool {
        matches!(self, Self::OneFamily | Self::TwoFamily)
    }
}

words! {
    /// How far the work is; some sheets apply only from a stage on.
    Stage, "a stage of the work" {
        "design" => Design,
        "rough-in" => RoughIn,
        "close-in" => CloseIn,
    }
}

words! {
    /// Edition of the National Electrical Code (NFPA 70) that the plan is judged by.
    Code, "an edition of the code" {
        "NEC 2017" => Nec2017,
        "NEC 2020" => Nec2020,
        "NEC 2023" => Nec2023,
    }
}

words! {
    /// Kind of room.
    RoomKind, "a kind of room" {
        "room" => Room,
        "garage" => Garage,
        "basement" => Basement,
        "laundry" => Laundry,
        "kitchen" => Kitchen,
        "bathroom" => Bathroom,
        "utility" => Utility,
        "outdoors" => Outdoors,
    }
}

words! {
    /// What a cable carries.
    Service, "a service" {
        "power" => Power,
        "speaker" => Speaker,
        "line" => Line,
        "video" => Video,
        "data" => Data,
        "coax" => Coax,
        "fibre" => Fibre,
        "control" => Control,
    }
}

words! {
    /// Conductor material.
    Material, "a conductor material" {
        "copper" => Copper,
        "aluminium" => Aluminium,
        "copper-clad-aluminium" => CopperCladAluminium,
    }
}

words! {
    /// How a conductor is made up.
    Conductor, "a make-up of conductor" {
        "solid" => Solid,
        "stranded" => Stranded,
    }
}

words! {
    /// How a video cable is built.
    Build, "a build of video cable" {
        "passive" => Passive,
        "active" => Active,
        "optical" => Optical,
    }
}

words! {
    /// Certified grade of a video cable, or category of a data cable.
    Grade, "a grade of cable" {
        "standard" | "category-1" => Standard,
        "high-speed" | "category-2" => HighSpeed,
        "premium-high-speed" => PremiumHighSpeed,
        "ultra-high-speed" => UltraHighSpeed,
        "ultra96" => Ultra96,
        "cat5e" => Cat5e,
        "cat6" => Cat6,
        "cat6a" => Cat6a,
        "cat7" => Cat7,
        "cat8" => Cat8,
    }
}

impl Grade {
    /// A certified grade of a video cable, as against a category of a data cable.
    pub fn is_video(self) -> bool {
        matches!(
            self,
            Self::Standard
                | Self::HighSpeed
                | Self::PremiumHighSpeed
                | Self::UltraHighSpeed
                | Self::Ultra96
        )
    }
}

words! {
    /// Kind of pathway.
    PathwayKind, "a kind of pathway" {
        "wall" => Wall,
        "ceiling" => Ceiling,
        "floor" => Floor,
        "attic" => Attic,
        "crawl-space" => CrawlSpace,
        "plenum" => Plenum,
        "riser" => Riser,
        "conduit" => Conduit,
        "raceway" => Raceway,
        "tray" => Tray,
        "slab" => Slab,
        "underground" => Underground,
        "outdoors" => Outdoors,
        "cabinet" => Cabinet,
        "surface" => Surface,
    }
}

impl PathwayKind {
    /// Closes cables in along its length.
    pub fn is_raceway(self) -> bool {
        matches!(self, Self::Conduit | Self::Raceway)
    }
}

words! {
    /// What kind of air a plenum moves (NEC 300.22).
    Air, "a kind of plenum" {
        "duct" => Duct,
        "space" => Space,
        "joist-bay" => JoistBay,
    }
}

words! {
    /// How a run crosses a joist bay that moves air.
    Crosses, "a way to cross" {
        "square" => Square,
        "along" => Along,
    }
}

words! {
    /// Make of conduit.
    Make, "a make of conduit" {
        "EMT" => Emt,
        "ENT" => Ent,
        "PVC-40" => Pvc40,
        "PVC-80" => Pvc80,
        "LFNC" => Lfnc,
        "FMC" => Fmc,
        "RMC" => Rmc,
        "IMC" => Imc,
    }
}

impl Make {
    pub fn is_metal(self) -> bool {
        matches!(self, Self::Emt | Self::Fmc | Self::Rmc | Self::Imc)
    }
}

words! {
    /// What a conduit or tubing is listed for besides ordinary walls.
    ConduitListing, "a listing of conduit" {
        "plenum" => Plenum,
        "riser" => Riser,
    }
}

words! {
    /// What of metal stands between data and power cables (EN 50174-2).
    Containment, "a containment" {
        "none" => None,
        "open-metal" => OpenMetal,
        "perforated-metal" => PerforatedMetal,
        "solid-metal" => SolidMetal,
    }
}

words! {
    /// A member of a wood frame.
    Member, "a framing member" {
        "stud" => Stud,
        "plate" => Plate,
        "joist" => Joist,
        "rafter" => Rafter,
        "truss" => Truss,
        "engineered-joist" => EngineeredJoist,
    }
}

words! {
    /// Whether a cable keeps to the prescribed zones of a wall (BS 7671, 522.6.202).
    Zone, "a place in the wall" {
        "inside" => Inside,
        "outside" => Outside,
    }
}

words! {
    /// The way that the front of something looks, along an axis of the house.
    Facing, "a direction of the house" {
        "x" | "+x" => X,
        "-x" => MinusX,
        "y" | "+y" => Y,
        "-y" => MinusY,
    }
}

words! {
    /// Protective device of a circuit.
    Protection, "a protective device" {
        "arc-fault" => ArcFault,
        "ground-fault" => GroundFault,
        "rcd-30ma" => Rcd30,
        "surge" => Surge,
    }
}

words! {
    /// What an endpoint shields those behind it from.
    Protects, "something that an endpoint protects by" {
        "surge" => Surge,
        "battery" => Battery,
    }
}

words! {
    /// How long a load runs.
    Duty, "a duty" {
        "continuous" => Continuous,
        "intermittent" => Intermittent,
    }
}

words! {
    /// IEEE 802.3 type of a powered device: 1 (802.3af) draws up to 12.95 W, 2 (802.3at) 25.5 W, 3 and 4 (802.3bt) 51 W and 71.3 W.
    Poe, "a type of power over Ethernet" {
        "type 1" => Type1,
        "type 2" => Type2,
        "type 3" => Type3,
        "type 4" => Type4,
    }
}

words! {
    /// Colour sampling of a picture.
    Chroma, "a colour sampling" {
        "4:4:4" => C444,
        "4:2:2" => C422,
        "4:2:0" => C420,
    }
}

words! {
    /// Reference method of installation (BS 7671 table 4A2 and table 4D5).
    Method, "a method of installation" {
        "A" => A,
        "C" => C,
        "100" => M100,
        "101" => M101,
        "102" => M102,
        "103" => M103,
    }
}

words! {
    /// Result of a cable test.
    Tested, "a test result" {
        "pass" => Pass,
        "fail" => Fail,
    }
}

words! {
    /// Where a loudspeaker belongs.
    Place, "a loudspeaker place" {
        "left" => Left,
        "right" => Right,
        "centre" => Centre,
        "surround-left" => SurroundLeft,
        "surround-right" => SurroundRight,
        "rear-left" => RearLeft,
        "rear-right" => RearRight,
        "wide-left" => WideLeft,
        "wide-right" => WideRight,
        "overhead-front-left" => OverheadFrontLeft,
        "overhead-front-right" => OverheadFrontRight,
        "overhead-middle-left" => OverheadMiddleLeft,
        "overhead-middle-right" => OverheadMiddleRight,
        "overhead-rear-left" => OverheadRearLeft,
        "overhead-rear-right" => OverheadRearRight,
    }
}

words! {
    /// Kind of endpoint.
    EndpointKind, "a kind of endpoint" {
        "rack" => Rack,
        "amplifier" => Amplifier,
        "receiver" => Receiver,
        "source" => Source,
        "projector" => Projector,
        "display" => Display,
        "screen" => Screen,
        "speaker" => Speaker,
        "subwoofer" => Subwoofer,
        "seat" => Seat,
        "light" => Light,
        "outlet" => Outlet,
        "wall-plate" => WallPlate,
        "patch-panel" => PatchPanel,
        "box" => Box,
        "distribution" => Distribution,
        "router" => Router,
        "switch" => Switch,
        "access-point" => AccessPoint,
        "camera" => Camera,
        "sensor" => Sensor,
        "keypad" => Keypad,
        "antenna" => Antenna,
        "entry" => Entry,
        "data-outlet" => DataOutlet,
        "splitter" => Splitter,
        "power-conditioner" => PowerConditioner,
        "inlet" => Inlet,
        "breaker-panel" => BreakerPanel,
        "wall-switch" => WallSwitch,
        "motor" => Motor,
        "fan" => Fan,
        "appliance" => Appliance,
        "sink" => Sink,
    }
}
