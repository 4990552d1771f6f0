"use client";
import { one } from "#lib/base";

export default function Page() {
	return <main>{one}</main>;
}
