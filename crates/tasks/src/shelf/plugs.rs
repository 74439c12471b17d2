//! What plugs in, in the words of the rig file.

use model::{Connector, Form, Half};

/// `XLR socket`, `jack plug`.
pub(super) fn plug(c: &Connector) -> String {
    let form = match &c.form {
        Form::Xlr => "XLR",
        Form::Jack => "jack",
        Form::Mini => "mini",
        Form::Phono => "phono",
        Form::Twist => "twist",
        Form::Wall => "wall",
        Form::Iec13 => {
            return match c.half {
                Half::Plug => "C14",
                Half::Sock => "C13",
            }
            .to_owned();
        }
        Form::Iec7 => {
            return match c.half {
                Half::Plug => "C8",
                Half::Sock => "C7",
            }
            .to_owned();
        }
        Form::Barrel21 => "barrel 2.1",
        Form::Barrel25 => "barrel 2.5",
        Form::UsbA => "USB-A",
        Form::UsbB => "USB-B",
        Form::UsbC => "USB-C",
        Form::Din5 => "DIN",
        Form::Rj45 => "network",
        Form::Own(name) => name,
    };
    let half = match c.half {
        Half::Plug => "plug",
        Half::Sock => "socket",
    };
    format!("{form} {half}")
}
