/**
 * How to get a machine to print what it knows: which command on which system, and what it tells. General
 * knowledge of the systems; everything stays on the machine, the output is pasted or dropped as a file.
 */

/** One way to get a dump. */
export interface GuideEntry {
  readonly system: "Windows" | "macOS" | "Linux";
  /** Message that says what the command tells. */
  readonly tells: string;
  /** To be typed as it stands. */
  readonly command: string;
  /** Message that says what is needed to run it, or where its output goes. */
  readonly needs: string | null;
}

/** Ways by system, the most telling one first. */
export const guide: readonly GuideEntry[] = [
  {
    system: "Windows",
    tells: "readout_guide_everything",
    command:
      "[Convert]::ToBase64String((Get-ItemProperty HKLM:\\SYSTEM\\CurrentControlSet\\Services\\mssmbios\\Data).SMBiosData)",
    needs: "readout_guide_powershell",
  },
  {
    system: "Windows",
    tells: "readout_guide_board",
    command: "Get-CimInstance Win32_BaseBoard | Format-List *",
    needs: "readout_guide_powershell",
  },
  {
    system: "Windows",
    tells: "readout_guide_battery",
    command: "powercfg /batteryreport /xml /output battery.xml",
    needs: "readout_guide_file_battery",
  },
  {
    system: "Windows",
    tells: "readout_guide_battery_voltage",
    command: "Get-CimInstance Win32_Battery | Format-List *",
    needs: "readout_guide_powershell",
  },
  {
    system: "Windows",
    tells: "readout_guide_memory",
    command: "Get-CimInstance Win32_PhysicalMemory | Format-List *",
    needs: "readout_guide_powershell",
  },
  {
    system: "Windows",
    tells: "readout_guide_display",
    command:
      'Get-ItemProperty "HKLM:\\SYSTEM\\CurrentControlSet\\Enum\\DISPLAY\\*\\*\\Device Parameters" | ForEach-Object { [Convert]::ToBase64String($_.EDID) }',
    needs: "readout_guide_powershell",
  },
  {
    system: "Linux",
    tells: "readout_guide_everything",
    command: "sudo dmidecode",
    needs: "readout_guide_administrator",
  },
  {
    system: "Linux",
    tells: "readout_guide_board",
    command: "grep -r . /sys/class/dmi/id/ 2>/dev/null",
    needs: null,
  },
  {
    system: "Linux",
    tells: "readout_guide_battery",
    command: "cat /sys/class/power_supply/*/uevent",
    needs: null,
  },
  {
    system: "Linux",
    tells: "readout_guide_display",
    command: 'for e in /sys/class/drm/*/edid; do echo "$e"; base64 "$e"; done',
    needs: null,
  },
  {
    system: "macOS",
    tells: "readout_guide_model_memory",
    command: "system_profiler SPHardwareDataType SPMemoryDataType SPPowerDataType",
    needs: "readout_guide_terminal",
  },
  {
    system: "macOS",
    tells: "readout_guide_display",
    command: "ioreg -lw0 | grep -i edid",
    needs: "readout_guide_terminal",
  },
];
