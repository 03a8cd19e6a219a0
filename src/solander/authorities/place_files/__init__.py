"""Own places from files: GeoJSON (RFC 7946), KML and KMZ (OGC KML 2.2), GPX 1.1 waypoints, CSV and XLSX.

A point becomes a circle of the size of such things, a line or a polygon the circle around it. Files from outside
are held within bounds, and XML is read without entities and document types (defusedxml).
"""
