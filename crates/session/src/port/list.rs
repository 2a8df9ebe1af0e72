//! The ports of this computer.

use serde::Serialize;

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ListedPort {
    /// Its name, as `--port` takes it.
    pub port: String,
    /// The name of the plugged-in device; empty if unknown.
    pub what: String,
}

/// The ports that the system lists. Any other path can be opened too.
pub fn list_ports() -> Vec<ListedPort> {
    // Without this folder, as in a bare container, the library would panic.
    if cfg!(target_os = "linux") && !std::path::Path::new("/sys/class/tty").is_dir() {
        return Vec::new();
    }
    let mut ports: Vec<ListedPort> = serialport::available_ports()
        .unwrap_or_default()
        .into_iter()
        .map(|port| ListedPort { port: port.port_name, what: what(&port.port_type) })
        .collect();
    ports.sort_by(|a, b| a.port.cmp(&b.port));
    ports
}

fn what(kind: &serialport::SerialPortType) -> String {
    match kind {
        serialport::SerialPortType::UsbPort(usb) => {
            let named: Vec<&str> = [&usb.manufacturer, &usb.product, &usb.serial_number]
                .into_iter()
                .flatten()
                .map(|s| s.trim())
                .collect();
            if named.is_empty() {
                "USB".to_owned()
            } else {
                format!("USB, {}", crate::shown(&named.join(" ")))
            }
        }
        serialport::SerialPortType::BluetoothPort => "Bluetooth".to_owned(),
        serialport::SerialPortType::PciPort => "built in".to_owned(),
        serialport::SerialPortType::Unknown => String::new(),
    }
}
