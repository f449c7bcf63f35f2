//! Dimensions as types. The only home of 25.4, of other conversion factors, and of libm.

mod angle;
mod date;
mod dimension;
mod fraction;
mod length;
mod measures;
mod show;
pub mod trig;
mod unit;

pub use angle::Angle;
pub use date::{Date, Hours, Money, WEEK, Weekday};
pub use dimension::Dimension;
pub use fraction::{Number, NumberError};
pub use length::{Diameter, Length};
pub use measures::{
    Area, Count, Density, Duration, Force, Humidity, Mass, Measure, MoistureContent, Movement, Ratio, Speed, Stress,
    Temperature, ThreadCount, Volume,
};
pub use show::{
    System, at_least, at_most, show_angle, show_both, show_decimal, show_fine, show_inches, show_length,
    show_millimeters,
};
pub use unit::{UNITS, Unit};
